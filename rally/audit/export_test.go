package audit

// NoScore stands for a game whose score is missing.
func NoScore() Score { return noScore }

// CostTable and Costs are for tests that price explanations by themselves.
type CostTable = costTable

// Costs returns the costs of the edits.
func Costs() CostTable { return costs }

// ScoresOfDate is what a spreadsheet can have made a date of.
func ScoresOfDate(text string) []Score { return scoresOfDate(text) }
