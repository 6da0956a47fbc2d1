package rally

// LineVersion is the version of the canonical line that this package writes.
const LineVersion = "L2"

// A lineField is one field of the line: its name, how it is written, and how
// it is read into the bits that belong to it, which is false for a value that
// no such field can have. Whether the fields of a line agree is seen when they
// are written back.
type lineField struct {
	name  string
	write func(f *lineField, r *Rules, s State) fieldText
	read  func(f *lineField, s State, v string) (State, bool)
	// Where a count a side or a letter a player stands, and the letters.
	ledger    bool
	at, width int
	letters   string
}

// The fields of the line, in their order.
var lineFields = [...]lineField{
	{"game", writeGame, readGame, false, 0, 0, ""},
	{"won", writeCounts, readCounts, false, wonAAt, 4, ""},
	{"score", writeScore, readScore, false, 0, 0, ""},
	{"opens", writeOpens, readOpens, false, 0, 0, ""},
	{"serve", writeServe, readNothing, false, 0, 0, ""},
	{"receive", writeReceiver, readNothing, false, 0, 0, ""},
	{"A", writeCourts, readNothing, false, 0, 0, ""},
	{"B", writeCourts, readNothing, false, 0, 0, ""},
	{"first", writeFirst, readFirst, false, 0, 0, ""},
	{"start", writeStart, readStart, false, 0, 0, ""},
	{"ends", writeEnds, readEnds, false, 0, 0, ""},
	{"due", writeDue, readDue, false, 0, 0, ""},
	{"phase", writePhase, readPhase, false, 0, 0, ""},
	{"result", writeOutcome, readOutcome, false, 0, 0, ""},
	{"break", writeBreak, readBreak, false, 0, 0, ""},
	{"timeouts", writeCounts, readCounts, true, timeOutsAt, 4, ""},
	{"medical", writeLetters, readLetters, true, medicalAt, 2, "-rug"},
	{"out", writeLetters, readLetters, false, outAt, 2, "-xc"},
	{"vw", writeCounts, readCounts, true, verbalAt, 1, ""},
	{"tw", writeCounts, readCounts, true, warningAt, 3, ""},
	{"tf", writeCounts, readCounts, true, foulAt, 3, ""},
	{"gf", writeCounts, readCounts, true, forfeitAt, 2, ""},
	{"wrong", writeCounts, readCounts, true, wrongAt, 2, ""},
	{"carry", writeCarry, readCarry, true, 0, 0, "-123456789abcdefghijklmnopqrstuv"},
}

// The fields that follow from the order of service, the scores and the places
// that both give; the order is found from them, see findOrder.
const firstPlace, lastPlace = 4, 7

// fieldText is the value of a field, which none needs more room for. It is
// passed by value, so that nobody's buffer escapes through the table.
type fieldText struct {
	size uint8
	text [15]byte
}

func (t fieldText) add(s string) fieldText {
	t.size += uint8(copy(t.text[t.size:], s))
	return t
}

func (t fieldText) letter(c byte) fieldText {
	t.text[t.size] = c
	t.size++
	return t
}

func (t fieldText) number(n int) fieldText {
	if n < 10 {
		return t.letter('0' + byte(n))
	}
	return t.number(n / 10).letter('0' + byte(n%10))
}

func (t fieldText) pair(a int, sep byte, b int) fieldText {
	return t.number(a).letter(sep).number(b)
}

// unused is the value of most fields that have nothing to say.
func unused() fieldText { return fieldText{}.letter('-') }

// Line returns the canonical line of a state: everything that can affect a
// later event or call, in one line of ASCII. Within a format, line and state
// are one to one.
func (r *Rules) Line(s State) string {
	var buf [320]byte
	return string(r.AppendLine(buf[:0], s))
}

// AppendLine appends the canonical line of a state to dst.
func (r *Rules) AppendLine(dst []byte, s State) []byte {
	return r.appendFields(append(dst, LineVersion...), s, 0, len(lineFields))
}

// appendFields appends some of the fields, each after a space.
func (r *Rules) appendFields(dst []byte, s State, from, to int) []byte {
	for i := from; i < to; i++ {
		dst = append(dst, ' ')
		dst = append(dst, lineFields[i].name...)
		dst = append(dst, '=')
		value := r.field(s, i)
		dst = append(dst, value.text[:value.size]...)
	}
	return dst
}

// field returns the value of field i in the line of s.
func (r *Rules) field(s State, i int) fieldText { return lineFields[i].write(&lineFields[i], r, s) }

// bits returns the counts of a field, the first lowest, and what stands above them.
func (f *lineField) bits(s State) uint64 {
	if f.ledger {
		return s.ledger >> f.at
	}
	return s.play >> f.at
}

func writeCounts(f *lineField, _ *Rules, s State) fieldText {
	bits, mask := f.bits(s), uint64(1)<<f.width-1
	return fieldText{}.pair(int(bits&mask), ':', int(bits>>f.width&mask))
}

func writeLetters(f *lineField, _ *Rules, s State) (t fieldText) {
	bits, mask := f.bits(s), uint64(1)<<f.width-1
	for range 4 {
		if n := bits & mask; n < uint64(len(f.letters)) {
			t = t.letter(f.letters[n])
		} else {
			t = t.letter('?') // no event leads there
		}
		bits >>= f.width
	}
	return t
}

// sharedIn times a penalty is the place of a letter of carry which says that the
// penalty is of the same pair as the partner's. It is written where the count of
// the side leaves that open.
const sharedIn = 4

func writeCarry(f *lineField, _ *Rules, s State) (t fieldText) {
	for p := A1; p <= B2; p++ {
		at := s.Carried(p)
		for what := CarriedWarning; what <= CarriedFoul; what <<= 1 {
			if s.ledger&sharedBit(p.Side(), what) != 0 && s.onRecord(p.Side(), what) > 1 {
				at |= (s.Carried(p) & what) * sharedIn
			}
		}
		t = t.letter(f.letters[at])
	}
	return t
}

func writeGame(_ *lineField, _ *Rules, s State) fieldText { return fieldText{}.number(s.Game()) }

func writeScore(_ *lineField, _ *Rules, s State) fieldText {
	return fieldText{}.pair(s.Score(A), '-', s.Score(B))
}

func writeOpens(_ *lineField, _ *Rules, s State) fieldText {
	return fieldText{}.pair(s.Opens(A), ':', s.Opens(B))
}

func writeServe(_ *lineField, r *Rules, s State) fieldText {
	if s.Phase() != Playing {
		return unused()
	}
	p := r.Places(s)
	t := fieldText{}.add(p.Server.String()).letter('@').add(p.Court.String()).letter('#')
	if p.Number == 0 {
		return t.letter('-')
	}
	return t.number(int(p.Number))
}

func writeReceiver(_ *lineField, r *Rules, s State) fieldText {
	if s.Phase() != Playing {
		return unused()
	}
	p := r.Places(s)
	if p.AnyReceives {
		return unused()
	}
	return fieldText{}.add(p.Receiver.String())
}

// writeCourts says who of the side stands right and left.
func writeCourts(f *lineField, r *Rules, s State) fieldText {
	if s.Phase() != Playing {
		return fieldText{}.add("--")
	}
	side, p := Side(f.name[0]-'A'), r.Places(s)
	switch {
	case !p.Known():
		return fieldText{}.add("--")
	case r.doubles:
		return fieldText{}.number(p.At[side][Right].Player()).number(p.At[side][Left].Player())
	case p.Standing[side] == Right:
		return fieldText{}.add("1-")
	}
	return fieldText{}.add("-1")
}

func writeFirst(_ *lineField, _ *Rules, s State) fieldText {
	side, known := s.First()
	if pending := byte(s.playBits(choiceAt, 3)); pending != 0 {
		return fieldText{}.letter('d' + (pending-1)/2).letter('A' + (pending-1)&1)
	}
	if !known {
		return unused()
	}
	return fieldText{}.add(side.String())
}

func writeStart(_ *lineField, _ *Rules, s State) fieldText {
	st, known := s.Starters()
	if !known {
		return unused()
	}
	return fieldText{}.add(st[A].String()).add(st[B].String())
}

func writeEnds(_ *lineField, _ *Rules, s State) fieldText {
	t := fieldText{}.number(s.swaps())
	if s.EndChangeMade() {
		return t.letter('m')
	}
	return t
}

func writeDue(_ *lineField, _ *Rules, s State) (t fieldText) {
	if s.EndChangeDue() {
		t = t.letter('e')
	}
	if s.PutRightDue() {
		t = t.letter('p')
	}
	if s.ExchangeOpen() {
		t = t.letter('x')
	}
	if t.size == 0 {
		return unused()
	}
	return t
}

func writePhase(_ *lineField, _ *Rules, s State) fieldText {
	return fieldText{}.add(s.Phase().String())
}

// outcomeTexts follow the winner's letter.
var outcomeTexts = [...]string{ByPlay: "", ByRetirement: "ret", ByWithdrawal: "wd", ByForfeit: "mf"}

func writeOutcome(_ *lineField, _ *Rules, s State) fieldText {
	if s.ledger&lateBit != 0 {
		loser, _ := s.lateFirst()
		return fieldText{}.add(loser.Other().String()).add("late")
	}
	if winner, won := s.ForfeitWinner(); won {
		t := fieldText{}.add(winner.String()).add("gf")
		if s.play&aborted != 0 {
			return t.add("ab")
		}
		return t
	}
	cause, winner, won := s.Outcome()
	switch {
	case cause == ByTie:
		return fieldText{}.add("tie")
	case cause == ByDoubleForfeit:
		return fieldText{}.add("dmf")
	case cause == ByAbandonment:
		return fieldText{}.add("ab")
	case !won:
		return unused()
	}
	return fieldText{}.add(winner.String()).add(outcomeTexts[cause])
}

func writeBreak(_ *lineField, _ *Rules, s State) fieldText {
	b, owner := s.Break()
	t := fieldText{}.add(b.String())
	switch b {
	case TimeOutBreak:
		return t.add(owner.Side().String())
	case MedicalBreak, EquipmentBreak:
		return t.add(owner.String())
	}
	return t
}
