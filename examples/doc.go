// Package examples holds programs that use the library, in a module of their
// own so that what they need never becomes a need of the library.
//
//   - officiate guides a referee through a match, rally by rally
package examples
