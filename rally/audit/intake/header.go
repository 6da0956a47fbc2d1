package intake

import (
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// Meaning is what a column holds: a name of [audit.ColumnNames], one of those
// below, or nothing for a column that is passed over.
type Meaning string

// Meanings that a table of [audit] has not, and that are worked out from it.
const (
	passedOver Meaning = "-"
	sideA      Meaning = "side_a" // a player, a pair in one cell, or a team
	sideB      Meaning = "side_b"
	wonA       Meaning = "won_a" // games won by side A
	wonB       Meaning = "won_b"
	pointsA    Meaning = "points_a" // of a single game, or games won
	pointsB    Meaning = "points_b"
)

// class is what a word of a header is about.
type class uint8

const (
	aSide class = iota + 1
	bSide
	aWinner
	aLoser
	aPlayer
	aPartner
	aTeam
	aPair
	aName
	anID
	aScore
	aGame
	aWon
	aDate
	aRound
	aMatch
	anEvent
	aFormat
	aStatus
	aTotal
	aBy
	aTimeOut
	filler
	ignored
)

// vocabulary are the words of headers, folded. They are words of everyday
// language in English, German, Spanish, French, Italian, Portuguese, Dutch and
// Polish.
var vocabulary = func() map[string]class {
	out := map[string]class{}
	for c, list := range map[class]string{
		aSide:    "home heim local locaux domicile casa mandante thuis gospodarz gospodarze a",
		bSide:    "away gast gaste gaeste guest guests visitor visitors visitante visitantes visiteur visiteurs exterieur ospite ospiti fora uit gosc goscie b",
		aWinner:  "winner winners sieger gewinner ganador ganadores ganadora gagnant gagnants vainqueur vainqueurs vincitore vincitori vencedor vencedores winnaar winnaars zwyciezca zwyciezcy",
		aLoser:   "loser losers verlierer perdedor perdedores perdant perdants perdente perdenti verliezer verliezers przegrany przegrani runnerup",
		aPlayer:  "player players spieler spielerin jugador jugadora joueur joueuse giocatore giocatrice jogador jogadora speler speelster gracz zawodnik p",
		aPartner: "partner companero companera partenaire compagno compagna parceiro partnerin",
		aTeam:    "team teams mannschaft equipo equipe squadra club verein side seite druzyna ploeg",
		aPair:    "pair pairs paar pareja paire coppia dupla doppel duo para koppel",
		aName:    "name names nombre nom nome naam imie nazwisko surname",
		anID:     "id ids no nr nummer number numero num n # code",
		aScore:   "score scores result results resultat resultate ergebnis ergebnisse resultado resultados risultato risultati punkte punkt points point punto puntos pontos ponto pts pt punti punten punkty wynik wyniki uitslag pkt",
		aGame:    "game games set sets satz saetze satze juego juegos jeu jeux manche manches partita gm gms g s gem parcial parciales jogo",
		aWon:     "won wins gewonnen ganados gagnes vinti vencidos gewonnene wygrane",
		aDate:    "date datum fecha data giorno day tag dia dag dzien jour played spieldatum",
		aRound:   "round runde ronda tour turno rodada kolejka week woche semaine semana settimana matchday spieltag jornada journee giornata rd rnd ronde",
		aMatch:   "match matchid begegnung spiel partido rencontre incontro wedstrijd mecz matchno",
		anEvent:  "event category division bracket draw discipline wettbewerb kategorie categoria categorie competition league liga klasse konkurrenz disziplin epreuve evento gara klasa kategoria pool group gruppe grupo groupe girone poule",
		aFormat:  "format type typ tipo art modus",
		aStatus:  "status state zustand estado statut stato outcome",
		aTotal:   "total totals gesamt totales totaux totali",
		aBy:      "by",
		aTimeOut: "timeouts timeout",
		filler:   "of the der die das de del la le les el los di do and und y et e per in on",
		ignored: "note notes remark remarks comment comments bemerkung bemerkungen kommentar kommentare observaciones observacion observacoes commentaire commentaires remarque remarques commenti osservazioni opmerking opmerkingen uwagi " +
			"court courts platz feld cancha pista terrain campo quadra baan kort umpire referee ref schiedsrichter kampfrichter arbitro arbitre scheidsrechter sedzia juez zaehler scorer " +
			"time zeit uhrzeit hora heure ora tijd godzina start end ende beginn begin fin duration dauer duracion duree venue location ort halle lugar lieu luogo sede hall place " +
			"timestamp email mail phone telefon url link tournament turnier torneo tournoi seed ranking rank row line zeile fila ligne weather entered reported submitted minutes minuten proposed",
	} {
		for word := range strings.FieldsSeq(list) {
			out[word] = c
		}
	}
	return out
}()

// known are the names of [audit.ColumnNames], spelt as words.
var known = func() map[string]Meaning {
	out := map[string]Meaning{}
	for _, name := range audit.ColumnNames() {
		out[strings.Join(wordsOf(name), " ")] = Meaning(name)
	}
	for name, means := range map[string]Meaning{"id": "match", "score": "games", "scores": "games", "side a": sideA, "side b": sideB} {
		out[name] = means
	}
	return out
}()

// meaningOf returns what a header says that its column holds; false if it says
// nothing known.
func meaningOf(header string) (Meaning, bool) {
	list := wordsOf(header)
	if len(list) == 0 {
		return passedOver, true
	}
	if m, ok := known[strings.Join(list, " ")]; ok {
		return m, true
	}
	h := headed{has: map[class]bool{}}
	strange := false
	for _, w := range list {
		if n, err := strconv.Atoi(w); err == nil {
			h.numbers = append(h.numbers, n)
			continue
		}
		c, ok := vocabulary[w]
		strange = strange || !ok
		h.has[c] = true
	}
	has := h.has
	side, sided := sideOf(has)
	if !sided && (has[aTeam] || has[aPair] || has[aPlayer] && has[aScore]) && len(h.numbers) > 0 && h.number() <= 2 {
		// "Team 2", "Pair 1 score"
		side, sided = [...]string{"a", "b"}[max(h.number(), 1)-1], true
		h.numbers = h.numbers[1:]
	}
	if strange && !(has[aTimeOut] || sided && (has[aPlayer] || has[aName])) {
		return "", false
	}
	m := Meaning("")
	switch n := h.number(); {
	case strings.Contains(strings.Join(list, " "), "time out") && n >= 1 && n <= 9:
		m = Meaning("time_outs" + strconv.Itoa(n))
	case has[ignored] && has[aDate]:
		m = "date"
	case has[ignored] && !(sided && (has[aGame] || has[aScore])):
		m = passedOver
	case sided:
		m = h.ofSide(side)
	default:
		m = h.ofRow()
	}
	return m, m != ""
}

// headed is what the words of a header are about, and its numbers.
type headed struct {
	has     map[class]bool
	numbers []int
}

// number is the first number; 0 if there is none.
func (h *headed) number() int {
	if len(h.numbers) == 0 {
		return 0
	}
	return h.numbers[0]
}

// ofSide is what a column of one side holds; "" if that is not known.
func (h *headed) ofSide(side string) Meaning {
	has, n := h.has, h.number()
	point, people := has[aGame] || has[aScore], has[aPlayer] || has[aTeam] || has[aPair] || has[aName]
	switch {
	case has[aWon]:
		return Meaning("won_" + side)
	case point && n >= 1 && n <= 9:
		return Meaning("game" + strconv.Itoa(n) + "_" + side)
	case has[aGame] && !has[aScore]:
		return Meaning("won_" + side)
	case point:
		return Meaning("points_" + side)
	case (has[aWinner] || has[aLoser]) && n == 0 && !people:
		return Meaning("side_" + side)
	case has[aPartner]:
		return Meaning(side + "2" + nameSuffix(has))
	case n >= 1 && n <= 2:
		return Meaning(side + strconv.Itoa(n) + nameSuffix(has))
	case has[aTeam] && !has[aPair] && !has[aPlayer], len(h.numbers) == 0:
		return Meaning("side_" + side)
	}
	return ""
}

// ofRow is what a column of no side holds; "" if that is not known.
func (h *headed) ofRow() Meaning {
	has, n := h.has, h.number()
	switch {
	case has[aPlayer] && n >= 1 && n <= 4:
		return Meaning("player" + strconv.Itoa(n))
	case (has[aGame] || has[aScore] && !has[aMatch]) && n >= 1 && n <= 9:
		return Meaning("game" + strconv.Itoa(n))
	case n != 0:
		return ""
	case has[aTotal]:
		return "totals"
	case has[aWon] && has[aGame]:
		return "won"
	case has[aDate] && !has[aScore]:
		return "date"
	case has[aStatus], has[aFormat] && has[aScore]: // "result type"
		return "status"
	case has[aFormat]:
		return "format"
	case has[aScore] || has[aGame]:
		return "games"
	case has[aRound]:
		return "round"
	case has[aMatch] || has[anID]:
		return "match"
	case has[anEvent]:
		return "event"
	case has[aBy]:
		return "by"
	}
	return ""
}

func nameSuffix(has map[class]bool) string {
	if has[aName] {
		return "_name"
	}
	return ""
}

// sideOf returns which side a header is about. Winners stand for A.
func sideOf(has map[class]bool) (string, bool) {
	switch {
	case has[aSide] && !has[bSide], has[aWinner] && !has[aLoser] && !has[bSide]:
		return "a", true
	case has[bSide] && !has[aSide], has[aLoser]:
		return "b", true
	}
	return "", false
}

// nearest returns the known name that a header is spelt most nearly like; ""
// if none is near.
func nearest(header string) string {
	of := strings.Join(wordsOf(header), "_")
	known := slices.Concat(audit.ColumnNames(), []string{"home", "away", "winners", "losers", "score", "player1", "result"})
	return words.Nearest(of, known, 1+len(of)/3)
}
