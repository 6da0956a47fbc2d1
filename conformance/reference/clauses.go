package reference

// Clauses names the rules on which the answer to an event rests where a table
// decides it: a refusal, what becomes of a rally in which something was wrong,
// a step of the ladder. It changes nothing; of other events, and of corrections,
// there are none.
func (m *Match) Clauses(event string) []string {
	o, ok := read(event)
	if !ok {
		return nil
	}
	if r := m.refusal(o); r != nil {
		return []string{r.clause}
	}
	then := *m
	switch o.word {
	case "rally", "stop":
		if then.phase != inPlay {
			then.opening(then.servesNext())
		}
		if r := then.rule(o); r.clause != "" {
			return []string{r.clause}
		}
	case "tw", "tf":
		given := map[string]string{"tw": "warning", "tf": "foul"}[o.word]
		for _, row := range ladder {
			if row.given == given && m.against(o.side, row.stands) {
				return []string{row.clause}
			}
		}
	}
	return nil
}
