// Package letters knows of letters what reading tables needs: what is left of
// them without case and marks, and that a letter with a mark can be spelt as one
// or as two.
package letters

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Letters with marks of the languages that headers and words come in, and the
// letters that remain of them; the last is ț.
var unmarked = func() (out [0x250]string) {
	for r, to := range map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'đ': "d", 'ı': "i"} {
		out[r] = to
	}
	for to, from := range map[string]string{
		"a": "àáâãäåāăą", "c": "çćč", "d": "ď", "e": "èéêëēėęě", "g": "ğ", "i": "ìíîïīį", "l": "ľĺ", "n": "ñńňņ", "o": "òóôõöőō",
		"r": "řŕ", "s": "śšşș", "t": "ťţț", "u": "ùúûüūůű", "y": "ýÿ", "z": "źżž",
	} {
		for _, r := range from {
			out[r] = to
		}
	}
	return out
}()

// firstMark is the first mark that stands on its own.
const firstMark = 0x300

// Fold leaves of a text what does not depend on case, marks or kinds of space:
// letters and digits, with single spaces for everything between them.
func Fold(s string) string { return string(AppendFolded(make([]byte, 0, len(s)), s)) }

// AppendFolded appends what [Fold] leaves of a text.
func AppendFolded(out []byte, s string) []byte {
	from, space := len(out), false
	for _, r := range s {
		if 'A' <= r && r <= 'Z' {
			r += 'a' - 'A'
		}
		letter := 'a' <= r && r <= 'z' || '0' <= r && r <= '9' || r == '#'
		if r >= utf8.RuneSelf {
			r = unicode.ToLower(r)
			if r >= firstMark && unicode.Is(unicode.Mn, r) || r == '\ufeff' {
				continue // a mark on its own: the text is decomposed
			}
			letter = unicode.IsLetter(r) || unicode.IsDigit(r)
		}
		if (space || r == '#') && len(out) > from && letter {
			out = append(out, ' ')
		}
		if space = !letter || r == '#'; !letter {
			continue
		}
		if r < utf8.RuneSelf {
			out = append(out, byte(r))
		} else if int(r) < len(unmarked) && unmarked[r] != "" {
			out = append(out, unmarked[r]...)
		} else {
			out = utf8.AppendRune(out, r)
		}
	}
	return out
}

// Composed puts letters and the marks that follow them together, as far as the
// languages above have them, so that one name has one spelling.
func Composed(s string) string {
	if strings.IndexByte(s, 0xcc) < 0 { // with which the marks below begin
		return s
	}
	var out []rune
	for _, r := range s {
		if n := len(out); n > 0 {
			if whole, ok := compositions[[2]rune{out[n-1], r}]; ok {
				out[n-1] = whole
				continue
			}
		}
		out = append(out, r)
	}
	return string(out)
}

// compositions are the pairs of letter and mark that make one letter, from the
// canonical decompositions of the Unicode character database.
var compositions = func() map[[2]rune]rune {
	out := map[[2]rune]rune{}
	for mark, pairs := range map[rune]string{
		0x300: "aàeèiìoòuùnǹAÀEÈIÌOÒUÙNǸ", 0x301: "aáeéiíoóuúyýcćlĺnńrŕsśzźAÁEÉIÍOÓUÚYÝCĆLĹNŃRŔSŚZŹ",
		0x302: "aâeêiîoôuûcĉgĝhĥjĵsŝwŵyŷAÂEÊIÎOÔUÛ", 0x303: "aãnñoõiĩuũAÃNÑOÕ", 0x304: "aāeēiīoōuūAĀEĒIĪOŌUŪ", 0x306: "aăeĕgğAĂGĞ",
		0x307: "eėzżcċgġEĖZŻIİ", 0x308: "aäeëiïoöuüyÿAÄEËIÏOÖUÜYŸ", 0x30a: "aåuůAÅUŮ", 0x30b: "oőuűOŐUŰ",
		0x30c: "cčdďeěnňrřsštťzžCČDĎEĚNŇRŘSŠTŤZŽ", 0x326: "sștțSȘTȚ", 0x327: "cçsştţlļnņCÇSŞTŢ", 0x328: "aąeęiįuųAĄEĘIĮUŲ",
	} {
		letters := []rune(pairs)
		for i := 0; i+1 < len(letters); i += 2 {
			out[[2]rune{letters[i], mark}] = letters[i+1]
		}
	}
	return out
}()
