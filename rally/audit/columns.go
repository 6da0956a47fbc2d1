package audit

import (
	"slices"
	"strings"
)

// Columns says which column of a table holds what. Make it with [ReadHeader].
type Columns struct {
	present []column // in the order of columnTable, wherever they stand
	width   int
}

// column is one column that this package documents.
type column struct {
	name  string
	holds holding
	n     int // player (A1 A2 B1 B2) or team or game, from 0
	at    int // its place in the row
	also  int // of the points of side A: the place of those of side B
}

// holding is what the cells of a column say.
type holding uint8

const (
	holdsMatch holding = iota
	holdsEvent
	holdsRound
	holdsDate
	holdsFormat
	holdsPlayer
	holdsName
	holdsTeam
	holdsGames
	holdsWon
	holdsTotals
	holdsWinner
	holdsStatus
	holdsBy
	holdsOf
	holdsGame
	holdsPointsA
	holdsPointsB
	holdsTimeOuts
)

// mostGames is how many games a table can have columns for.
const mostGames = 9

// columnTable is every column, in any order in a file:
//
//	match event round date format
//	a1 a2 b1 b2                     ids of players, A and B in the order of entry
//	a1_name a2_name b1_name b2_name names, only shown
//	team_a team_b                   ids of teams
//	games                           all scores in one cell: "11-8 7-11 11-9"
//	won totals                      games won and points, where games are not given
//	winner                          A or B
//	status                          played, retired, forfeited, withdrawn, … ([Status])
//	by                              side that retired, forfeited or withdrew
//	of                              match that is amended or resumed
//	game1 … game9                   one score a cell
//	game1_a game1_b … game9_b       one number a cell
//	time_outs1 … time_outs9         time-outs used, "1-0"
var columnTable = func() []column {
	table := []column{
		{name: "match", holds: holdsMatch}, {name: "event", holds: holdsEvent}, {name: "round", holds: holdsRound},
		{name: "date", holds: holdsDate}, {name: "format", holds: holdsFormat},
	}
	for n, name := range playerColumns {
		table = append(table, column{name: name, holds: holdsPlayer, n: n})
	}
	for n, name := range playerColumns {
		table = append(table, column{name: name + "_name", holds: holdsName, n: n})
	}
	table = append(table,
		column{name: "team_a", holds: holdsTeam, n: 0}, column{name: "team_b", holds: holdsTeam, n: 1},
		column{name: "games", holds: holdsGames}, column{name: "won", holds: holdsWon}, column{name: "totals", holds: holdsTotals},
		column{name: "winner", holds: holdsWinner}, column{name: "status", holds: holdsStatus},
		column{name: "by", holds: holdsBy}, column{name: "of", holds: holdsOf})
	for n := range mostGames {
		game := "game" + itoa(n+1)
		table = append(table, column{name: game, holds: holdsGame, n: n},
			column{name: game + "_a", holds: holdsPointsA, n: n}, column{name: game + "_b", holds: holdsPointsB, n: n},
			column{name: "time_outs" + itoa(n+1), holds: holdsTimeOuts, n: n})
	}
	return table
}()

var playerColumns = [...]string{"a1", "a2", "b1", "b2"}

// otherNames are names that mean a column as well.
var otherNames = map[string]string{"id": "match", "score": "games", "scores": "games"}

// ColumnNames returns the names of all columns that [ReadHeader] knows.
func ColumnNames() []string {
	names := make([]string, len(columnTable))
	for i := range columnTable {
		names[i] = columnTable[i].name
	}
	return names
}

// ReadHeader reads the header of a table. Names are taken without regard to
// case, spaces for underscores; columns without a name, and those whose names
// begin with "note" or "proposed", are passed over. A header without any
// column of scores, with a column twice, or with an unknown one, is an
// [*InputError] that names it.
func ReadHeader(header []string) (*Columns, error) {
	places := map[string]int{}
	for at, h := range header {
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))), " ", "_")
		if other, ok := otherNames[name]; ok {
			name = other
		}
		known := slices.ContainsFunc(columnTable, func(k column) bool { return k.name == name })
		_, twice := places[name]
		switch {
		case known && twice:
			return nil, &InputError{1, "header", "column " + name + " twice"}
		case known:
			places[name] = at
		case name != "" && !strings.HasPrefix(name, "note") && !strings.HasPrefix(name, "proposed"):
			most := slices.IndexFunc(columnTable, func(k column) bool { return k.holds == holdsGame })
			return nil, &InputError{1, "header", "unknown column " + quote(name) + "; know " + strings.Join(ColumnNames()[:most], ", ") + ", game1, game1_a, time_outs1, …"}
		}
	}
	c := &Columns{width: len(header)}
	scores := false
	for _, k := range columnTable {
		at, ok := places[k.name]
		if k.holds == holdsPointsA || k.holds == holdsPointsB {
			game := "game" + itoa(k.n+1)
			_, a := places[game+"_a"]
			also, b := places[game+"_b"]
			if a != b {
				return nil, &InputError{1, "header", game + " has the points of one side only"}
			}
			k.also = also
			ok = ok && k.holds == holdsPointsA // those of side B are read with them
		}
		if !ok {
			continue
		}
		k.at = at
		c.present = append(c.present, k)
		switch k.holds {
		case holdsGame, holdsPointsA, holdsGames, holdsWon, holdsTotals, holdsStatus:
			scores = true
		}
	}
	if !scores {
		return nil, &InputError{1, "header", "no column of scores: want games, game1, game1_a and game1_b, won or totals"}
	}
	return c, nil
}
