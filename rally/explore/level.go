package explore

// LevelChance is how a game first comes to level one short of the target.
type LevelChance struct {
	Serving Side    `json:"serving"`
	Number  uint8   `json:"number,omitempty"` // server number; 0 where there are none
	Chance  float64 `json:"chance"`
}

// LevelBy returns with what chance a game first comes to level one short of
// the target with each side serving, by its server number.
func (g *GameModel) LevelBy(r Rates) ([]LevelChance, error) {
	c, o, err := g.at(r)
	if err != nil {
		return nil, err
	}
	var out []LevelChance
	for i, p := range c.firstVisits(o, c.levels) {
		s := c.state[c.levels[i]]
		side, _ := s.Serving()
		entry := LevelChance{side, c.rules.Places(s).Number, p}
		merged := false
		for k := range out {
			if out[k].Serving == entry.Serving && out[k].Number == entry.Number {
				out[k].Chance += p
				merged = true
			}
		}
		if !merged {
			out = append(out, entry)
		}
	}
	return out, nil
}
