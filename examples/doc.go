// Package examples holds programs that use the library, in a module of their
// own so that what they need never becomes a need of the library.
//
//   - officiate guides a referee through a match, rally by rally
//   - board shows the courts of a club and takes what their referees enter
//   - drill trains new referees
//   - resultcheck says what cannot be so in imported results and logs
//   - formatlab says what a format, or a change of one, does, for rules committees
//   - progress is the bar that two of them draw on a terminal
//   - peer-js is an engine in JavaScript, written from the specification alone
package examples
