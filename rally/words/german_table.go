package words

// germanTable holds the German texts, as [NewLanguage] reads them.
const germanTable = `# Wörter, aus denen andere bestehen
person.marked {name} ({mark})
person.side Team {side}
person.pair {a} und {b}
name.of {player}
list.and und
list.or oder
court.right rechts
court.left links
parity.even gerade
parity.odd ungerade
hand.left links
hand.right rechts
depth.near nah
depth.far fern
score.of {score}
likely.mistyped : wahrscheinlich {scores:or}
likely.unknown : mit dem Spielzettel vergleichen
certain.yes sicher, wenn nicht noch ein Fehler mehr gemacht wurde, als dafür nötig ist
certain.no nach den wenigsten Änderungen; andere kommen ihnen nahe

# Regeln: wo eine Bestimmung steht, und wie gut das bekannt ist
clause.rule Regel {rule} von {edition}, {mark}
  Regel {rule} von {edition}
clause.edition Ausgabe {edition}, {mark}
  Ausgabe {edition}
clause.practice allgemein üblich
clause.procedure Schiedsrichterpraxis, {mark}
  Schiedsrichterpraxis
clause.own eine Regel dieser Bibliothek, {mark}
  eine Regel dieser Bibliothek
clause.club Vereinspraxis, {mark}
  Vereinspraxis
clause.event nach den Regeln dieser Veranstaltung
mark.read im Text gelesen
  gelesen
mark.paraphrase in einer Wiedergabe gelesen
  Wiedergabe
mark.paraphrase-low in einer unsicheren Zusammenfassung gelesen
  unsichere Wiedergabe
mark.common-practice allgemein üblich
  üblich
mark.derived abgeleitet
  abgeleitet
mark.memory aus dem Gedächtnis
  Gedächtnis
mark.open kein Text entscheidet es
  offen

# Formate
format.played {parts}
format.serving-side-scores das aufschlagende Team punktet
format.either-side-scores beide Teams punkten
format.to bis {target} mit {margin} Vorsprung
format.to-cap bis {target} mit {margin} Vorsprung oder bei {cap}
format.two-servers zwei Aufschläger je Aufschlagrecht
format.two-servers-one-first zwei Aufschläger je Aufschlagrecht, im ersten einer
format.freeze {freeze}
format.best-of höchstens {games} Spiele, die Mehrheit gewinnt
format.all-played {games} Spiele, alle gespielt
format.last-to das letzte bis {target}
freeze.win-on-serve der Siegpunkt nur bei eigenem Aufschlag
freeze.each-at-point jedes Team eingefroren, sobald ihm ein Punkt zum Ziel fehlt
freeze.leader-and-trailer das führende Team eingefroren, wenn ihm ein Punkt zum Ziel fehlt, das andere, wenn ihm drei fehlen
freeze.both-at-point alle Punkte nur bei eigenem Aufschlag, sobald einem Team ein Punkt zum Ziel fehlt
sides.singles Einzel
sides.doubles Doppel

# Ereignisse
event.plain {kind}
event.side {kind}, {side}
event.person {kind}, {player}
event.fault {kind}, {side}: {fault}
event.start {kind}: {side} zuerst, Startaufschläger {a} und {b}
event.choice {kind}, {side}: {chosen}
event.late {kind}, {side}: {seconds} {seconds|Sekunde|Sekunden}
event.incident {event}; {claim}
event.stop {stopper} unterbricht den Ballwechsel {reach}: {claim}
event.none kein solches Ereignis
entry.amend Eintrag {entry} berichtigt: {event}
entry.strike Eintrag {entry} gestrichen
entry.rule über Eintrag {entry} entschieden: {event}
entry.rewind Spiel auf Eintrag {entry} zurückgesetzt
entry.set Stand gesetzt: {line}
entry.now Format ab jetzt geändert: {format}
entry.next Format ab dem nächsten Spiel geändert: {format}
entry.stated {entry} (Grund: {reason})
entry.decided {entry} (entschieden von {by})
kind.rally Ballwechsel gewonnen
kind.replay Wiederholung
kind.stop unterbrochener Ballwechsel
kind.start-game Beginn eines Spiels
kind.ends-changed Seiten gewechselt
kind.exchange Partner tauschen die Felder
kind.time-out Auszeit
kind.time-in Fortsetzung
kind.equipment Auszeit für Ausrüstung
kind.referee Auszeit des Schiedsrichters
kind.blood Auszeit des Schiedsrichters wegen Blut
kind.hazard Auszeit des Schiedsrichters wegen Gefahr
kind.illness Auszeit des Schiedsrichters wegen Krankheit
kind.dealt Grund der Unterbrechung behoben
kind.medical-request Bitte um medizinische Auszeit
kind.medical-valid Fachleute finden einen berechtigten Grund
kind.medical-invalid Fachleute finden keinen berechtigten Grund
kind.medical-withdrawn Bitte um medizinische Auszeit zurückgezogen
kind.help-arrived Hilfe eingetroffen
kind.play-on-alone ein Spieler spielt allein weiter
kind.concussion Verdacht auf Gehirnerschütterung
kind.verbal-warning mündliche Verwarnung
kind.technical-warning technische Verwarnung
kind.technical-foul technisches Foul
kind.carried-verbal mündliche Verwarnung aus dem letzten Match
kind.carried-warning Verwarnung aus dem letzten Match
kind.carried-foul Foul aus dem letzten Match
kind.same-verbal mündliche Verwarnung des Partners aus dem letzten Match, von beiden mitgebracht
kind.same-warning Verwarnung des Partners aus dem letzten Match, von beiden mitgebracht
kind.same-foul Foul des Partners aus dem letzten Match, von beiden mitgebracht
kind.game-forfeit Spielverlust
kind.match-forfeit Matchverlust
kind.double-forfeit Matchverlust beider Teams
kind.ejection Verweis vom Match
kind.expulsion Verweis von der Veranstaltung
kind.late-arrival verspätete Ankunft
kind.challenge-lost Einspruch verloren
kind.challenge-withdrawn Einspruch zurückgezogen
kind.first-choice erste Wahl
kind.retirement Aufgabe
kind.withdrawal Rückzug
kind.abandon Match unterbrochen
kind.resume Match fortgesetzt
kind.substitution Auswechslung
kind.sheet-returned Spielzettel abgegeben
kind.undo zurücknehmen
kind.redo wiederholen
kind.amend Eintrag berichtigt
kind.rule Berichtigung durch Entscheidung
kind.rewind zurückspulen
kind.set Stand gesetzt
kind.format Formatwechsel
fault.foot Fußfehler
fault.serve regelwidriger Aufschlag
fault.short zu kurzer Aufschlag
fault.early Aufschlag vor dem Ende der Ansage
fault.ten Zehn-Sekunden-Fehler
fault.net Ball ins Netz
fault.out Ball im Aus
fault.bounce Volley vor dem zweiten Aufsprung
fault.nvz Fehler an der Nicht-Volley-Zone
fault.twice zweiter Aufsprung oder doppelt geschlagen
fault.body Ball berührt einen Spieler
fault.touch Netz oder Pfosten berührt
fault.plane Netz vor dem Schlag überquert
fault.receiver falscher Rückschläger
fault.stopped Spiel ohne Recht unterbrochen
fault.timeout Auszeit zu spät verlangt
fault.absent Spieler nicht auf dem Feld
fault.distract Ablenkung
fault.other anderer Fehler
chosen.serve Aufschlag
chosen.receive Rückschlag
chosen.end eine Spielfeldseite
chosen.defer die Wahl dem anderen Team überlassen
claim.mistakes {mistakes:and}
claim.mistaken behauptet, aber nicht so: {mistake}
claim.raised {claim}, vorgebracht {since} durch {stopper}
claim.misled {claim}, was den unterbrechenden Spieler irregeführt hat
claim.confirmed {claim}, obwohl der Schiedsrichter gefragt worden war und bestätigt hatte
mistake.side das falsche Team schlug auf
mistake.server der falsche Spieler schlug auf
mistake.court der Aufschlag kam aus dem falschen Feld
mistake.receiver der falsche Spieler schlug zurück
mistake.rcourt die Rückschläger standen in den falschen Feldern
mistake.call der Stand war falsch angesagt
mistake.starter das aufschlagende Team hatte seinen Startaufschläger ohne Meldung gewechselt
mistake.rstarter das rückschlagende Team hatte seinen Startaufschläger ohne Meldung gewechselt
reach.ended an seinem Ende
reach.uncalled vor der Ansage
reach.called nach der Ansage, vor dem Aufschlag
reach.struck nach dem Aufschlag
reach.returned nach dem Rückschlag
reach.third nach dem dritten Schlag
since.live im Ballwechsel
since.rallyover nach dem Ballwechsel
since.served nachdem der nächste Aufschlag geschlagen ist
since.overtaken nach einem weiteren Punkt oder einem Aufschlag der Gegner
since.gameover nach dem Spiel
since.sheet nach Abgabe des Spielzettels
stopper.nobody jemand
stopper.byA Team A
stopper.byB Team B
stopper.byref der Schiedsrichter
effect.point Punkt
effect.second-server zweiter Aufschläger
effect.side-out Aufschlagwechsel
effect.replay der Ballwechsel wird wiederholt
effect.withheld kein Punkt: der Gewinner punktet bei diesem Stand nur bei eigenem Aufschlag
effect.stands der Ballwechsel zählt
effect.overruled die Entscheidung hat das Ergebnis geändert
effect.game-started ein Spiel beginnt
effect.game-won Spiel gewonnen
effect.match-won Match gewonnen
effect.ends-due jetzt Seitenwechsel
effect.ends-changed die Seiten sind gewechselt
effect.exchanged Partner haben die Felder getauscht
effect.break eine Unterbrechung beginnt
effect.time-in das Spiel geht weiter
effect.time-out-charged eine Auszeit wird angerechnet
effect.last-time-out letzte Auszeit des Spiels verbraucht
effect.medical-used medizinische Auszeit verbraucht
effect.warning technische Verwarnung
effect.foul technisches Foul
effect.verbal-warning mündliche Verwarnung
effect.penalty-point eine Strafe ändert den Stand
effect.game-forfeit Spielverlust
effect.match-forfeit Matchverlust
effect.player-out ein Spieler scheidet aus dem Match aus
effect.help Fachleute zu Hilfe rufen
effect.put-right ein Team muss vor der Ansage richtig gestellt werden
effect.recorded vermerkt
effect.first-chosen es steht fest, wer zuerst aufschlägt
effect.closed der Spielzettel ist abgegeben
phase.before vor dem Match
phase.play im Spiel
phase.between zwischen den Spielen
phase.over beendet, der Spielzettel noch nicht abgegeben
phase.closed geschlossen, der Spielzettel ist abgegeben
break.t Auszeit
break.m medizinische Auszeit
break.eq Auszeit für Ausrüstung
break.ref Auszeit des Schiedsrichters
break.blood Auszeit des Schiedsrichters wegen Blut
break.hazard Auszeit des Schiedsrichters wegen Gefahr
break.illness Auszeit des Schiedsrichters wegen Krankheit
how.played gespielt
how.forfeited durch Spielverlust
how.broken-off abgebrochen
how.unplayed nicht gespielt
how.unfinished nicht beendet
how.unknown nicht bekannt

# Warum ein Ereignis abgelehnt wird
refusal.sentence Abgelehnt, {event}: {reason}.
  Abgelehnt: {reason}.
refusal.clause Abgelehnt, {event}: {reason} ({clause:short}).
  Abgelehnt: {reason}.
refusal.open Abgelehnt, {event}: {reason} ({clause}).
  Abgelehnt: {reason}, als Vorgabe: kein Text entscheidet es.
refusal.accepted Das würde angenommen.
refusal.instead Stattdessen: {kinds}.
refusal.allowed Was jetzt kommen kann: {kinds}.
refusal.nothing Es kann nichts folgen.
refusal.malformed es gibt kein solches Ereignis, oder seine Teile widersprechen sich
refusal.log-only eine Berichtigung wird im Protokoll ausgeführt
refusal.closed der Spielzettel ist abgegeben
refusal.over das Match ist beendet
refusal.abandoned das Match ist unterbrochen; es muss erst fortgesetzt oder der Spielzettel abgegeben werden
refusal.no-such-player im Einzel gibt es keinen zweiten Spieler
refusal.not-in-edition die Ausgabe kennt keine solche Regel
refusal.local-rule nur eine Regel der Veranstaltung könnte es erlauben
refusal.not-started das kann nicht vor Beginn des Matches kommen
refusal.not-in-play das kann nur kommen, während ein Spiel läuft
refusal.in-play das kann nur vor dem Match oder zwischen den Spielen kommen
refusal.no-first-server es ist nicht gewählt, wer zuerst aufschlägt
refusal.first-settled die erste Wahl ist getroffen und gilt
refusal.wrong-side-first in diesem Spiel schlägt das andere Team zuerst auf
refusal.not-its-choice die Wahl gehört dem anderen Team, oder das stand nicht zur Wahl
refusal.undealt der Grund der Unterbrechung ist nicht behoben
refusal.awaiting-medical erst müssen Fachleute sagen, ob der Grund berechtigt ist, oder die Bitte wird zurückgezogen
refusal.in-break eine andere Unterbrechung läuft
refusal.no-break es läuft keine Unterbrechung
refusal.none-left in diesem Spiel ist keine Auszeit übrig
refusal.medical-used die medizinische Auszeit des Spielers ist verbraucht, aber zur Sicherheit kann jederzeit unterbrochen und Hilfe gerufen werden
refusal.no-request der Spieler hat nicht um medizinische Auszeit gebeten
refusal.player-out ein Spieler, der gebraucht wird, ist aus diesem Match ausgeschieden
refusal.nobody-left es ist kein Partner übrig, der allein weiterspielen könnte
refusal.absent-due ein ausgeschiedener Spieler müsste auf- oder zurückschlagen, und dieser Fehler kommt zuerst
refusal.not-due es ist kein Seitenwechsel im Spiel fällig
refusal.not-fixed Partner tauschen die Felder nur, wo sie feste Felder haben
refusal.not-now das kann in diesem Augenblick nicht kommen
refusal.second-verbal ein Team erhält in einem Match eine mündliche Verwarnung; die nächste ist eine technische
refusal.out-of-window für diese Entscheidung ist es zu spät oder zu früh
refusal.most-points ein Stand kann nicht mehr Punkte enthalten
refusal.rule Abgelehnt, {event}. {rule} ({clause})
  Abgelehnt. {rule}

# Ansagen
call.two {serving:word}, {receiving:word}
call.three {serving:word}, {receiving:word}, {number:word}
call.start {serving:word}, {receiving:word}, Start
call.none jetzt wird kein Stand angesagt
result.point Punkt
result.second-server zweiter Aufschläger
result.side-out Aufschlagwechsel
result.with-point Punkt, {result}
result.service-over Aufschlagwechsel
result.hand-out Aufschlag an die Gegner
result.replay Wiederholung
result.none nichts
said.foot "Fußfehler"
said.nvz "Fehler, Nicht-Volley-Zone"
said.ten "Fehler, zehn Sekunden"
said.other "Fehler"
said.fault "Fehler, {fault}"
said.short "zu kurz"
said.out "aus"
said.nothing nichts: der Ball ist tot, und das Ergebnis wird angesagt
when.struck sobald der Aufschlag geschlagen ist
when.lands sobald der Ball aufspringt
when.early sobald ein Aufschlag geschlagen wird, bevor der ganze Stand angesagt ist
when.early.motion sobald eine Aufschlagbewegung beginnt, bevor der ganze Stand angesagt ist
when.count wenn {seconds} Sekunden seit der Ansage vergangen sind
when.dead wenn der Ball tot ist
when.seen sobald es gesehen wird, solange der Ball im Spiel ist
when.late.motion sobald eine Auszeit verlangt wird, nachdem die Aufschlagbewegung begonnen hat
when.late.strike sobald eine Auszeit verlangt wird, nachdem der Aufschlag geschlagen ist
when.returned wenn der falsche Spieler den Aufschlag zurückschlägt
when.due vor der Ansage, wenn dieser Spieler auf- oder zurückschlagen müsste
caller.referee der Schiedsrichter
caller.line-judge der Linienrichter dieser Linie
caller.end-players die Spieler, auf deren Seite der Ball aufsprang
caller.serving-side das aufschlagende Team
caller.receiving-side das rückschlagende Team
caller.either-side jeder Spieler; sind sie uneins, wird der Ballwechsel wiederholt
caller.offender das Team, das ihn begangen hat
loser.serving-side das aufschlagende Team
loser.receiving-side das rückschlagende Team
loser.offender das Team, das ihn begangen hat

# Aufgaben
duty.help Zuallererst Fachleute zu Hilfe rufen: Sanitäter am Ort, wo nötig den Rettungsdienst.
  Fachleute zu Hilfe rufen.
duty.safety Das Spiel ruht und das Feld bleibt frei, solange die Versorgung es braucht.
  Feld frei halten.
duty.qualified Fachleuten überlassen, was vorliegt, wie lange die Versorgung dauert und wer weiterspielen darf.
  Fachleute entscheiden.
duty.medical-clock.arrival Die medizinische Uhr läuft {minutes} Minuten vom Eintreffen der Sanitäter oder des Turnierleiters an; sie kürzt keine Versorgung ab.
  {minutes} Minuten ab Eintreffen der Hilfe; keine Versorgung wird gekürzt.
duty.medical-clock.request Die medizinische Uhr läuft {minutes} Minuten von der Bitte an; sie kürzt keine Versorgung ab.
  {minutes} Minuten ab der Bitte; keine Versorgung wird gekürzt.
duty.note-medical Für {player} nur aufschreiben, dass um medizinische Auszeit gebeten wurde, ob Fachleute sie gewährten und wie lange sie dauerte.
  Notieren, {player}: erbeten, gewährt oder nicht, wie lange.
duty.medical-answer Die Antwort der Fachleute abwarten, oder dass die Bitte zurückgezogen wird, und eintragen.
  Fachleute abwarten, Antwort eintragen.
duty.medical-penalty Erst ganz am Ende: fanden Fachleute keinen berechtigten Grund, das eintragen; die Strafe der Ausgabe folgt.
  Ganz am Ende: kein berechtigter Grund, Strafe.
duty.await-dealt Diese Unterbrechung endet erst, wenn ihr Grund behoben ist.
  Pause, bis es behoben ist.
duty.out-of-match {player} nimmt an diesem Match nicht mehr teil: es besteht Verdacht auf Gehirnerschütterung.
  {player}: aus dem Match.
duty.what-remains Es bleiben eine Auszeit des Schiedsrichters, Aufgabe oder Matchverlust; ein irriger Eintrag wird mit Begründung berichtigt.
  Es bleiben: Auszeit des Schiedsrichters, Aufgabe, Matchverlust, Berichtigung.
duty.plays-alone {player} fällt aus, {partner} spielt allein weiter; Reihenfolge und Plätze bleiben, als wären beide da.
  {player} fällt aus, {partner} spielt allein; Reihenfolge und Plätze bleiben.
duty.know-format Das Format kennen: {played}; {time-outs} {time-outs|Auszeit|Auszeiten} je Team und Spiel.
  {played}; {time-outs} {time-outs|Auszeit|Auszeiten} je Team.
duty.check-court Das Feld prüfen: Sicherheit, Linien, Netzhöhe, Pfosten.
  Feld, Netz, Pfosten prüfen.
duty.check-paddles Die Schläger ansehen.
  Schläger ansehen.
duty.brief Die Spieler einweisen: Format, Auszeiten, Seiten, wer was ansagt, wie man Einspruch erhebt.
  Spieler einweisen.
duty.ask-starters Jedes Team nach seinem Startaufschläger fragen, sehen, dass dessen Band getragen wird, und es aufschreiben.
  Startaufschläger: fragen, Bänder sehen, aufschreiben.
duty.ask-places Jedes Team fragen, wer rechts steht, und es aufschreiben.
  Wer rechts steht: fragen, aufschreiben.
duty.first-choice Die erste Wahl gerecht auslosen: Aufschlag, Rückschlag, Seite, oder sie überlassen, wo die Ausgabe das zulässt.
  Erste Wahl auslosen.
duty.note-choice Den ersten Aufschlag des Matches aufschreiben: {side}.
  Erster Aufschlag: {side}.
duty.opening-point Das kommende Spiel beginnt mit einem Punkt für {side}, wegen einer Strafe der Gegner.
  {side}: ein Punkt zu Beginn.
duty.orient Den Zettel so drehen, dass seine Seiten liegen, wie die Teams von Ihrem Platz aus stehen.
  Zettel nach den Teams drehen.
duty.first-call Die Anfangszeit aufschreiben und zur ersten Ansage übergehen.
  Anfangszeit, erste Ansage.
duty.say-result Sagen: "{result}".
  {result:capital}.
duty.mark-point Den Punkt von {side} eintragen: jetzt {score}.
  {side}: {score}.
duty.mark-point-server Den Punkt von {side} unter Aufschläger {number} eintragen: jetzt {score}.
  {side}: {score}, Aufschläger {number}.
duty.marker-two Die Aufschlägerklammer auf 2 setzen: {server}.
  Klammer auf 2: {server}.
duty.mark-turn-end Das Ende des Aufschlagrechts von {side} eintragen.
  Aufschlagrecht zu Ende: {side}.
duty.turn-record Den Zettel zu {side} drehen.
  Zettel zu {side}.
duty.read-score Den Stand von {side} lesen: {score}, {parity}.
  {side}: {score}, {parity}.
duty.set-marker Die Aufschlägerklammer danach setzen: {parity}, also {server}.
  {parity:capital}: {server}.
duty.set-court Die Aufschlägerklammer danach setzen: {parity}, also {court}.
  {parity:capital}: {court}.
duty.then-look Erst jetzt hinsehen, ob {server} {court} steht: der Stand vor den Leuten.
  {server}, {court}.
duty.rehearse Die nächste Ansage vorbereiten, während der Ball zurückkommt: "{call}".
  {call:capital}.
duty.say-replay Sagen, dass der Ballwechsel wiederholt wird, und warum.
  Wiederholung, und warum.
duty.note-replay Die Wiederholung vermerken, wenn eine Berichtigung der Grund war; Stand, Aufschläger und Plätze bleiben.
  Wiederholung nach Berichtigung vermerken.
duty.withheld Bei diesem Stand punktet {side} nur bei eigenem Aufschlag: kein Punkt, es bleibt bei {score}.
  Kein Punkt: {side} bleibt bei {score}.
duty.say-ruling Die Entscheidung verkünden. {ruling}
  {ruling}
duty.say-end-change Den Seitenwechsel ansagen; Stand und Aufschläger bleiben.
  Jetzt Seitenwechsel.
duty.say-game Sagen: "Spiel", {own} zu {other} für {side}.
  Spiel, {own} zu {other}, {side}.
duty.say-time-in Sagen: "Es geht weiter".
  Es geht weiter.
duty.call-absence Den Fehler von {side} ansagen: der Spieler, der auf- oder zurückschlagen müsste, ist ausgeschieden.
  Fehler von {side}: der Spieler ist ausgeschieden.
duty.put-right Gegen {side} ist eben ein Fehler angesagt worden: vor der Ansage sehen, dass alles stimmt; {server} schlägt von {court} auf.
  {side} richtig stellen: {server}, {court}.
duty.check-order Vor der Ansage prüfen und ungefragt richtig stellen: {server} hat {court} den Ball, {receiver} schlägt zurück, die Partner stehen auf ihren Plätzen.
  {server}, {court}; {receiver} schlägt zurück.
duty.check-order.singles Vor der Ansage prüfen und ungefragt richtig stellen: {server} hat {court} den Ball, {receiver} schlägt zurück.
  {server}, {court}; {receiver} schlägt zurück.
duty.correct-nobody Niemanden ungefragt berichtigen: wer aufschlägt und wer wo steht, müssen die Spieler wissen.
  Niemanden ungefragt berichtigen.
duty.receiver-ready Sehen, ob {receiver} bereit zum Rückschlag ist, nicht der Partner.
  {receiver} bereit?
duty.receiver-ready.singles Sehen, ob {receiver} bereit zum Rückschlag ist.
  {receiver} bereit?
duty.server Den Aufschläger ansehen: {server}, {court}.
  {server}, {court}.
duty.feet Auf die Füße sehen: {server}.
  Füße: {server}.
duty.call Den Stand ansagen: "{call}".
  {call:capital}.
duty.count Vom Ende der Ansage an {seconds} Sekunden zählen.
  {seconds} Sekunden ab der Ansage.
duty.watch-serve Auf den Aufschlag von {server} achten: Bewegung, Füße und ob er zu kurz ist.
  Auf den Aufschlag achten.
duty.watch-zone Auf die Füße an der Nicht-Volley-Linie achten, nicht auf den Ball.
  Füße an der Nicht-Volley-Linie.
duty.line-appeal Linien den Spielern jener Seite überlassen; fragen sie, nur entscheiden, was man sah.
  Linien nur auf Anfrage.
duty.stop.stands-warned Schlägt der falsche Spieler auf, den Ballwechsel spielen lassen: er zählt, und eine Verwarnung folgt.
  Falscher Aufschläger: spielen lassen, dann verwarnen.
duty.stop.fault Schlägt der falsche Spieler auf oder zurück, oder kommt der Aufschlag aus dem falschen Feld, sofort unterbrechen und den Fehler nennen.
  Aufschläger, Feld oder Rückschläger falsch: unterbrechen, Fehler nennen.
duty.stop.replay-if-stopped Schlägt der falsche Spieler auf oder zurück, oder aus dem falschen Feld, unterbrechen: der Ballwechsel wird wiederholt. Ist er zu Ende gespielt, zählt er.
  Aufschläger, Feld oder Rückschläger falsch: unterbrechen, wiederholen; zu Ende gespielt zählt es.
duty.stop.corrected Zeigt sich ein Irrtum über Aufschläger oder Feld, ihn berichtigen; der Stand bleibt.
  Irrtum berichtigen; der Stand bleibt.
duty.say-time-out "Auszeit" sagen und es dem anderen Team mitteilen: {side}.
  Auszeit, {side}.
duty.coaching Andere als der Partner dürfen coachen, bis es weitergeht.
  Coachen ist erlaubt.
duty.no-coaching Partner dürfen beim Seitenwechsel miteinander reden; sonst coacht niemand.
  Kein Coachen.
duty.note-time-out Aufschreiben: Auszeit von {side}, verbraucht {used}, übrig {left}, die Ansage steht bei "{call}".
  Auszeit, {side}: verbraucht {used}, übrig {left}; "{call}".
duty.note-time-out.between Aufschreiben: Auszeit von {side} vor Spiel {game}, verbraucht {used}, übrig {left}.
  Auszeit, {side}, für Spiel {game}: verbraucht {used}, übrig {left}.
duty.note-equipment Aufschreiben: Auszeit für Ausrüstung, {player}.
  Auszeit für Ausrüstung, {player}.
duty.note-stop Aufschreiben, wann und warum das Spiel ruhte, und den Stand.
  Wann, warum, Stand aufschreiben.
duty.clock Die Uhr starten: {seconds} Sekunden.
  {seconds} Sekunden.
duty.clock-equipment Die Uhr starten: höchstens {seconds} Sekunden.
  Höchstens {seconds} Sekunden.
duty.reasonable Die Unterbrechung darf angemessen lange dauern; eine Zahl ist nicht genannt.
  Angemessene Zeit.
duty.paddles Die Spieler ihre Schläger dorthin legen lassen, wo sie stehen werden, den von {server} mit dem Ball darunter.
  Schläger hinlegen, der Ball unter den von {server}.
duty.notice {seconds} Sekunden vor dem Ende Bescheid geben.
  Bescheid bei {seconds} Sekunden.
duty.compare Wer zurückkommt, mit dem Zettel vergleichen: {server} schlägt von {court} zu {receiver} auf.
  {server}, {court}, zu {receiver}.
duty.not-ready.penalty Ein Team, das zehn Sekunden danach nicht zurück ist, erhält ein Foul; beim zweiten Mal verliert es das Match.
  In zehn Sekunden nicht zurück: Foul.
duty.not-ready.ten-seconds Den Stand ansagen, auch wenn Spieler fehlen: die zehn Sekunden laufen.
  Ansagen; zehn Sekunden laufen.
duty.not-ready.when-ready Den Stand ansagen, wenn die Spieler bereit sind oder sein müssten; wer verzögert, wird verwarnt.
  Ansagen, wenn sie bereit sind oder sein müssten.
duty.last-time-out {side} mitteilen, dass das die letzte Auszeit des Spiels war.
  {side}: das war die letzte Auszeit.
duty.note-number Die Ansage vermerken, bevor jemand sich bewegt: "{call}".
  Ansage vermerken: "{call}".
duty.clock-ends Die Uhr starten: höchstens {seconds} Sekunden für den Seitenwechsel.
  Höchstens {seconds} Sekunden, Seitenwechsel.
duty.same-server Derselbe Spieler schlägt weiter auf: {server}.
  {server} schlägt weiter auf.
duty.write-final Das Ergebnis von Spiel {game} aufschreiben und vorlesen: {a} zu {b}, in der Reihenfolge des Eintrags.
  Spiel {game}: {a} zu {b}, aufschreiben und vorlesen.
duty.write-forfeit Aufschreiben, dass Spiel {game} durch Spielverlust endete, bei {a} zu {b} in der Reihenfolge des Eintrags; gemeldet wird es, wie die Ausgabe es vorsieht.
  Spiel {game} verloren, {a} zu {b}.
duty.clock-games Die Uhr starten: höchstens {seconds} Sekunden zwischen den Spielen.
  Höchstens {seconds} Sekunden.
duty.change-ends Die Teams die Seiten wechseln lassen.
  Seiten wechseln.
duty.keep-ends Die Teams behalten ihre Seiten.
  Seiten bleiben.
duty.next-first Erster Aufschlag des nächsten Spiels: {side}.
  {side} schlägt zuerst auf.
duty.ask-first Fragen, wer im nächsten Spiel zuerst aufschlägt.
  Wer schlägt zuerst auf?
duty.new-starters Jedes Team fragen, ob sein Startaufschläger wechselt, und sehen, dass das Band weitergegeben wird.
  Neue Startaufschläger? Bänder weitergeben.
duty.new-places Jedes Team fragen, ob seine Partner die Felder tauschen.
  Tauschen Partner die Felder?
duty.time-outs-coming Die Auszeiten sind neu: jedes Team hat {allowed} im kommenden Spiel, und eine jetzt verlangte wird ihm angerechnet.
  {allowed} neue Auszeiten je Team.
duty.time-outs-none Die Auszeiten sind im kommenden Spiel neu; vor seinem Beginn gibt es keine.
  Keine Auszeit vor Spielbeginn.
duty.say-match.single Das Match verkünden: {side}, {own} zu {other}.
  Match, {side}, {own} zu {other}.
duty.say-match Das Match verkünden: {side}, {own} zu {other} Spiele.
  Match, {side}, {own} zu {other}.
duty.say-outcome.tied Verkünden, dass das Match unentschieden ist.
  Unentschieden.
duty.say-outcome.retired Die Aufgabe von {side} verkünden.
  {side}: Aufgabe.
duty.say-outcome.withdrew Den Rückzug von {side} verkünden.
  {side}: Rückzug.
duty.say-outcome.forfeited Den Matchverlust von {side} verkünden.
  {side}: Matchverlust.
duty.say-outcome.double-forfeit Verkünden, dass beide Teams das Match verloren haben.
  Beide: Matchverlust.
duty.sign Den Zettel vom Gewinnerteam unterschreiben lassen.
  Unterschrift der Gewinner.
duty.note-incidents Strafen und Vorfälle auf dem Zettel vermerken: Zeit, Stand, Aufschläger, Entscheidung.
  Strafen und Vorfälle vermerken.
duty.correctable Über den letzten Ballwechsel kann entschieden werden, bis der Zettel abgegeben ist.
  Der letzte Ballwechsel ist offen, bis der Zettel abgegeben ist.
duty.final Das Ergebnis gilt mit dem letzten Punkt.
  Das Ergebnis gilt.
duty.carry Eine jetzt gegebene Strafe dem Turnierleiter melden: sie geht ins nächste Match über.
  Strafen jetzt: dem Turnierleiter.
duty.between-matches Die Zeit vermerken: zwischen zwei Matches derselben Spieler liegen {seconds} Sekunden.
  Zeit vermerken: {seconds} Sekunden zwischen Matches.
duty.return-sheet Den Zettel am Tisch abgeben.
  Zettel abgeben.
duty.free Die Ausrüstung abgeben und sich frei melden.
  Ausrüstung abgeben, frei melden.
duty.suspended Sagen, dass das Spiel unterbrochen ist und warum, etwa wegen Regens. Das Match wird fortgesetzt, wie es stand, oder der Zettel wird abgegeben.
  Unterbrochen: fortsetzen oder Zettel abgeben.
duty.say-verbal Zu {side} sagen: "mündliche Verwarnung".
  Mündliche Verwarnung, {side}.
duty.say-warning Zu {side} sagen: "technische Verwarnung".
  Technische Verwarnung, {side}.
duty.say-foul Zu {side} sagen: "technisches Foul".
  Technisches Foul, {side}.
duty.note-penalty Die Strafe mit ihrem Grund auf dem Zettel vermerken.
  Strafe und Grund vermerken.
duty.penalty-point Den Stand sagen, wie er jetzt ist: "{call}".
  "{call}".
duty.penalty-places Sehen, dass {side} die Plätze des neuen Standes einnimmt; Aufschläger ist {server}.
  {side}: Plätze des neuen Standes; Aufschläger ist {server}.
duty.say-forfeit-game Sagen, dass {side} das Spiel verliert.
  Spielverlust, {side}.
duty.exchanged Vermerken, dass die Partner von {side} die Felder getauscht haben.
  Felder getauscht: {side}.
duty.ends-made Vermerken, dass die Seiten gewechselt sind.
  Seiten gewechselt: vermerken.
duty.note Mit Zeit und Stand vermerken.
  Vermerken.

# Fragen von Spielern
question.score "Wie steht es?"
question.server "Ist das der richtige Aufschläger?"
question.server-court "Steht der Aufschläger im richtigen Feld?"
question.receiver "Ist das der richtige Rückschläger?"
question.own-places "Stehen wir richtig?"
question.opponent-places "Stehen die anderen richtig?"
response.refuse Nicht antworten.
response.score-only Den Stand sagen und sonst nichts.
response.confirm Mit Ja oder Nein antworten und sonst nichts.
response.put-in-order Alle Spieler richtig stellen.
response.unruled Die Ausgabe sagt nichts: die Leitung der Veranstaltung entscheidet.
answer.refuse "Das kann ich nicht beantworten."
answer.score "{call}"
answer.own-score "Sie haben {score} Punkte."
answer.no-score "Es gibt jetzt keinen Stand anzusagen."
answer.yes "Ja."
answer.no "Nein."
answer.order "{server} schlägt von {court} auf, {receiver} schlägt zurück; bitte nehmen Sie Ihre Plätze ein."
answer.unruled "Ich frage den Turnierleiter."
unsaid.server Nicht von sich aus sagen, wer aufschlägt.
unsaid.court Nicht von sich aus sagen, aus welchem Feld.
unsaid.receiver Nicht von sich aus sagen, wer zurückschlägt.
unsaid.places Nicht von sich aus sagen, wer wo steht.
unsaid.line Keine Linienentscheidung ungefragt treffen, die den Spielern gehört.

# Warum dieser Spieler aufschlägt
server.none Jetzt schlägt niemand auf.
server.why {who:capital}. {where:capital}. {whom:capital}.
  {who}.
who.opening {server} schlägt auf, weil das erste Aufschlagrecht des Spiels dem Startaufschläger von {side} gehört
who.first {server} schlägt als erster Aufschläger auf, weil der Stand von {side} {parity} war, als der Aufschlag kam: dann steht der {role} rechts
who.second {server} schlägt als zweiter Aufschläger auf, weil {partner} den Aufschlag verloren hat
who.second-open {server} schlägt als zweiter Aufschläger auf, wie der Startaufschläger im ersten Aufschlagrecht und nach dem Partner
who.turn.starter {server} schlägt als Startaufschläger auf, weil das Aufschlagrecht von {side} das Spiel eröffnete oder bei geradem Stand begann
who.turn.partner {server} schlägt als Partner des Startaufschlägers auf, weil das Aufschlagrecht von {side} bei ungeradem Stand begann
who.singles-first {server} schlägt auf, weil dieses Team beginnt oder den letzten Ballwechsel gewann
who.singles {server} schlägt auf, weil dieses Team den letzten Ballwechsel gewann
who.fixed {server} schlägt auf, weil der Stand von {side} {score} ist, also {parity}, und das heißt {court}
who.fixed-penalty {server} schlägt weiter auf, weil eine Strafe den Stand ändert, aber nicht den Aufschläger
who.swap {server} schlägt auf, weil der Spieler im Feld des Standes von {side} das Aufschlagrecht eröffnet und den Aufschlag behält
role.starter Startaufschläger
role.partner Partner des Startaufschlägers
where.parity der Stand von {side} ist jetzt {score}, also {parity}, so steht {starter} als Startaufschläger {starts}, und der Aufschlag kommt von {court}
where.singles der eigene Stand ist {score}, also {parity}, so kommt der Aufschlag von {court}
where.fixed die Partner behalten ihre Felder, so kommt der Aufschlag von {court}
where.swap die Partner tauschen die Felder nach einem Punkt bei eigenem Aufschlag, so kommt der Aufschlag von {court}
whom.diagonal {receiver} schlägt aus dem Feld diagonal gegenüber zurück
whom.singles {receiver} schlägt diagonal gegenüber zurück
whom.half {receiver} schlägt von {court} zurück, bei {score}, also {parity}
rebuild.opening Das erste Aufschlagrecht gehört dem Startaufschläger; mit {score} Punkten steht er jetzt {court}.
rebuild.starter Das Aufschlagrecht begann bei {own}, also {parity}: Aufschläger {number} ist der Startaufschläger, mit {score} Punkten jetzt {court}.
rebuild.partner Das Aufschlagrecht begann bei {own}, also {parity}: Aufschläger {number} ist der Partner, mit {score} Punkten jetzt {court}.

# Entscheidungen
ruling.none Es gibt nichts zu entscheiden.
ruling.one {verdict}. {rule} ({clause:short})
  {verdict}.
ruling.two {verdict}. {rule} ({clause:short}) {second} ({also:short})
  {verdict}.
ruling.warned {ruling} Dazu kommt eine technische Verwarnung.
ruling.fouled {ruling} Dazu kommt ein technisches Foul.
ruling.unsettled {ruling} Kein Text entscheidet das: so ist es hier vorgegeben.
  {ruling} Kein Text entscheidet das.
ruling.ground {rule} ({clause})
verdict.unaffected Nichts ändert sich
verdict.stands Der Ballwechsel zählt
verdict.replay Der Ballwechsel wird wiederholt
verdict.servers-lose Das aufschlagende Team verliert den Ballwechsel
verdict.receivers-lose Das rückschlagende Team verliert den Ballwechsel
verdict.ignored Der Ballwechsel zählt nicht

# Erste Wahl und Verlauf
choice.serve erster Aufschlag für {side}; eine Seite für {other}
choice.receive erster Rückschlag für {side}; eine Seite für {other}
choice.end eine Seite für {side}; Aufschlag oder Rückschlag für {other}
choice.defer {side} überlässt die Wahl {other}
plan.game Spiel {game}: erster Aufschlag {side}; {left} links vom Schiedsrichter, {right} rechts.
plan.open Spiel {game}: wer zuerst aufschlägt, wird gewählt; {left} links vom Schiedsrichter, {right} rechts.
plan.winner Spiel {game}: der Gewinner des vorigen Spiels schlägt zuerst auf; {left} links vom Schiedsrichter, {right} rechts.
plan.loser Spiel {game}: der Verlierer des vorigen Spiels schlägt zuerst auf; {left} links vom Schiedsrichter, {right} rechts.
plan.mid Seitenwechsel darin, sobald ein Team {score} hat.
plan.mid-none Darin kein Seitenwechsel.

# Übergabe
hand-over.match Match {match}, Feld {court}, bisheriger Schiedsrichter {referee}.
hand-over.format {played:capital}, Regeln von {edition} ({format}).
  {played:capital}, Regeln von {edition}.
hand-over.before Das Match hat nicht begonnen.
hand-over.game Spiel {game}; gewonnene Spiele: {a} {won-a}, {b} {won-b}.
hand-over.final Spiel {game} war {a} {score-a}, {b} {score-b}.
hand-over.final-forfeit Spiel {game} endete durch Spielverlust, zu melden als {a} {score-a}, {b} {score-b}.
hand-over.score Stand: {a} {score-a}, {b} {score-b}.
hand-over.call Nächste Ansage "{call}": {server} schlägt von {court} zu {receiver} auf.
hand-over.starters Startaufschläger dieses Spiels: {a} und {b}.
hand-over.rights Rechts stehen in diesem Spiel: {a} und {b}.
hand-over.stands {player} steht im Aufschlagfeld {court}, {hand} von Ihnen, {depth}.
  {player}: {court}.
hand-over.ends {left} links von Ihnen, {right} rechts von Ihnen.
hand-over.ends-due Der Seitenwechsel im Spiel ist jetzt fällig.
hand-over.ends-made Der Seitenwechsel im Spiel ist gemacht.
hand-over.ends-not-made Der Seitenwechsel im Spiel steht noch aus.
hand-over.ends-none In diesem Spiel gibt es keinen Seitenwechsel.
hand-over.put-right Gegen {side} ist eben ein Fehler angesagt worden: vor der Ansage sehen, dass alles stimmt.
hand-over.break Eine Unterbrechung läuft: {kind}.
hand-over.time-outs Auszeiten von {side}: verbraucht {used}, übrig {left}.
hand-over.time-out Auszeit von {side} bei der Ansage {call}.
hand-over.time-out.between Auszeit von {side} vor dem Spiel.
hand-over.medical Die medizinische Auszeit von {player} ist verbraucht.
hand-over.medical-open {player} hat um medizinische Auszeit gebeten; die Antwort der Fachleute steht aus.
hand-over.medical-none Keine medizinische Auszeit ist verbraucht.
hand-over.out {player} ist aus diesem Match ausgeschieden; der Partner spielt allein.
hand-over.concussed {player} nimmt an diesem Match nicht mehr teil.
hand-over.penalties Strafen von {side}: mündliche Verwarnungen {verbal}, technische Verwarnungen {warnings}, technische Fouls {fouls}, Spielverluste {forfeits}.
hand-over.penalties-none Keine Strafen.
hand-over.carried.foul {player} hat ein technisches Foul aus dem letzten Match mitgebracht.
hand-over.carried.verbal {player} hat eine mündliche Verwarnung aus dem letzten Match mitgebracht.
hand-over.carried.warning {player} hat eine technische Verwarnung aus dem letzten Match mitgebracht.
hand-over.opens Das kommende Spiel beginnt mit einem Punkt für {side}.
hand-over.replay Eintrag {entry} war eine Wiederholung, die Ansage danach {call}.
hand-over.over Das Match ist beendet.

# Prüfung von Ergebnissen und Protokollen
severity.note Hinweis
severity.warning Warnung
severity.error Fehler
status.played gespielt
status.retired Aufgabe
status.forfeited Matchverlust
status.withdrawn zurückgezogen
status.double-forfeit Matchverlust beider Teams
status.not-played nicht gespielt
status.bye Freilos
status.postponed verschoben
status.abandoned abgebrochen
status.awarded zugesprochen
status.annulled annulliert
status.resumed fortgesetzt
status.amended berichtigt
reason.said {reason}
reason.fields erwartet {want} {want|Feld|Felder}, vorhanden {have}
reason.long länger als {most} Bytes
reason.quote ein Anführungszeichen wird geöffnet und nicht geschlossen
want.scores erwartet werden Stände wie 11-8
want.date erwartet wird ein Datum, JJJJ-MM-TT
want.side erwartet wird A oder B
want.status erwartet wird eines von {names}
want.time-outs erwartet werden verbrauchte Auszeiten, etwa 1-0
want.numbers erwartet werden zwei Zahlen bis 999
want.fewer es sind mehr als neun Spiele
want.starters erwartet werden die Startaufschläger, etwa A1B1
want.player erwartet wird A1, A2, B1 oder B2, oder ein Name des Matches
want.number erwartet wird eine Zahl ab 1
want.time erwartet werden Millisekunden, 1:02:03 oder ein Datum mit Uhrzeit
want.event erwartet wird ein Ereignis, wie es in einem Protokoll steht, etwa tA
want.call erwartet wird eine Ansage wie 4-3-1
taken.part nur was von der Zeile lesbar war, wurde geprüft
taken.ignored das Feld wurde ausgelassen, die Zeile ohne es geprüft
unclear.by welches Team das war, ist nicht gesagt, oder es ist als Gewinner genannt
unclear.winner ein Gewinner ist genannt, und es kann keinen geben
unclear.none der Gewinner ist nicht gesagt
part.games-won gewonnene Spiele
part.totals Summen
part.winner Gewinner
field.a Team A
field.b Team B
field.games Spiele
field.winner Gewinner
field.status Status
field.date Datum
field.format Format
field.round Runde
again.resync und die letzten stimmen wieder
again.no-resync bis zur letzten
undone.nothing es gibt nichts zurückzunehmen
position.at {server} von {court} zu {receiver}
marks.no-format es ist kein Format angegeben
marks.too-long es sind mehr, als ein Spiel haben kann
marks.past-score ein Aufschlagwechsel ist bei einem Stand vermerkt, der nicht erreicht wurde
marks.no-game keine Folge von Ballwechseln tut es
settles.more-than-one keine einzelne Frage
settles.side welches Team schlägt auf?
settles.court aus welchem Feld kommt der nächste Aufschlag?
settles.number welche Aufschlägernummer?
settles.server wer schlägt auf?
settles.receiver wer schlägt zurück?
settles.right-of-a wer von A steht rechts?
settles.right-of-b wer von B steht rechts?
settles.starter-a wer ist der Startaufschläger von A?
settles.starter-b wer ist der Startaufschläger von B?
settles.first wer schlug in diesem Spiel zuerst auf?
place.row Zeile {line}
place.file {file}, Zeile {line}
convention.mirrored in jedem Stand stehen die Punkte von B zuerst
convention.reversed die neueste Zeile steht zuerst
convention.mirrored-reversed die neueste Zeile steht zuerst, und in jedem Stand stehen die Punkte von B zuerst
convention.before jeder Stand ist der vor dem Ballwechsel
convention.before-reversed die neueste Zeile steht zuerst, und jeder Stand ist der vor dem Ballwechsel
finding.row-unreadable diese Zeile ist nicht lesbar: {reason}
finding.field-unreadable {read} ist hier nicht lesbar: {want}; {taken}
finding.score-as-date {read} sieht nach einem Stand aus, den eine Tabelle in ein Datum verwandelt hat: {proposed:or}
finding.missing-spelled fehlende Werte sind auf {n} {n|Art|Arten} geschrieben: {spellings}
finding.format-unknown kein solches Format: {format}; nicht geprüft. Eine Kennung wie sideout-doubles-11-of3 eintragen, oder die Spalte übergehen und das Format selbst angeben
finding.game-level Spiel {game}: {score} steht gleich, also hat niemand gewonnen{likely}
finding.game-unfinished Spiel {game}: {score} ist nicht beendet, das Ziel ist {target}{likely}
finding.game-margin Spiel {game}: {score} fehlt der Vorsprung von {margin}: vertippt, nicht beendet, oder ein Bewerb mit einem Punkt Vorsprung{likely}
finding.game-over-run Spiel {game}: {score} geht über das Ende eines Spiels bis {target} mit {margin} Vorsprung hinaus{likely}
finding.game-penalty-only Spiel {game}: {score} ist aus Ballwechseln allein kein Endstand{likely}; nur mit einem vermerkten technischen Foul kann er gelten
finding.game-nothing Spiel {game}: {score} ist kein Ergebnis
finding.time-outs-too-many Spiel {game}: Team {side} nahm {used} {used|Auszeit|Auszeiten}, erlaubt {allowed|ist|sind} {allowed}
finding.match-empty weder Spiele noch gewonnene Spiele noch Summen sind angegeben
finding.match-too-many-games {games} {games|Spiel ist|Spiele sind} angegeben, das Match hat höchstens {most}
finding.match-extra-game das Match war nach Spiel {decided} entschieden, aber {games} Spiele sind angegeben
finding.match-undecided {won} nach Spielen: niemand hat {needed} gewonnen
finding.match-tied {won} nach Spielen: das Match ist unentschieden
finding.match-game-missing Spiel {game} hat keinen Stand, ein späteres aber schon
finding.winner-disagrees Team {named} ist als Gewinner genannt, aber nach Spielen steht es {won}: der Gewinner oder die Reihenfolge der Stände ist falsch
finding.winner-missing es ist kein Gewinner genannt, und nichts sagt, wer gewonnen hat
finding.sides-mirrored die beiden Meldungen haben die Teams vertauscht: {earlier} und {games} ({at})
finding.target-other kein Spiel passt zum Ziel {target}, aber jedes passt zu {fits}: falsches Format?
finding.player-both-sides Spieler {player} steht in beiden Teams
finding.player-twice Spieler {player} ist in einem Team zweimal aufgeführt
finding.side-players Team {side} hat nicht so viele Spieler wie {sides} braucht
finding.single-game-event ein Spiel bis 11 ist für Gruppen von {fewest:word} oder mehr, hier {sides|ist es|sind es} {sides}
finding.status-games ein Match mit dem Status "{status}" hat {games} {games|Spiel|Spiele}
finding.status-winner ein Match mit dem Status "{status}": {unclear}
finding.retirement-convention Team {side} gab bei {score} auf; üblich ist die Meldung {games}
finding.retirement-complete Team {side} soll aufgegeben haben, aber {won} nach Spielen hatte das Match entschieden
finding.retirement-before-play eine Aufgabe vor dem ersten Stand ist ein Rückzug; üblich ist die Meldung {games}
finding.retirement-unmarked gab Team {side} bei {score} auf? Dann ist die Meldung {games} üblich
finding.forfeit-convention das Match war bei {score} nicht beendet; üblich ist die Meldung {games}
finding.forfeit-full-score Team {side} soll verloren gegeben haben, aber die Spiele sehen gespielt aus ({won} nach Spielen)
finding.bye-opponent ein Freilos hat zwei Teams
finding.reference-missing ein Match mit dem Status "{status}" sagt nicht, welches gemeint ist
finding.partial-checked es sind keine Stände von Spielen angegeben; geprüft: {parts}
finding.games-won-impossible {won} nach Spielen ist in einem Match mit {most} nicht möglich
finding.totals-impossible keine gültigen Spiele ergeben zusammen {totals} Punkte
finding.totals-disagree angegeben ist {given}, die Spiele ergeben {sum}
finding.role-missing {role} fehlt
finding.role-unknown {role} gehört nicht zu dieser Teambegegnung
finding.role-twice {role} ist {times}-mal angegeben
finding.role-player-too-often Spieler {player} spielt {plays} Teile, erlaubt {allowed|ist|sind} {allowed}
finding.tie-breaker-missing die Mannschaften stehen gleich bei {score}, und {role} fehlt
finding.tie-breaker-needless {role} wurde gespielt, obwohl die Mannschaften nicht gleich standen ({score})
finding.team-winner-disagrees Mannschaft {named} ist als Gewinner genannt, nach den Teilen ist es {leads} ({score})
finding.team-score-disagrees angegeben ist {given}, die Teile ergeben {sum}
finding.team-undecided die Mannschaften stehen gleich bei {score}
finding.team-part-unfinished {role} hat keinen Gewinner
finding.same-match-agrees zweimal gemeldet, und die Meldungen stimmen überein ({at})
finding.same-match-differs zweimal gemeldet, und {field} ist verschieden: {earlier} / {later} ({at})
finding.same-pairing-twice dieselben Teams treffen in einer Runde oder an einem Tag zweimal aufeinander ({at})
finding.player-two-matches Spieler {player} steht in Runde {round} in zwei Matches ({at})
finding.date-outside {date} liegt außerhalb der Saison: fast alle anderen Matches sind von {first} bis {last}
finding.name-near {name} und {other} sind fast gleich geschrieben
finding.name-two-ids {name} hat zwei Kennungen: {first}, {second}
finding.pairing-missing {a} und {b} sind {met}-mal aufeinandergetroffen, {due}-mal müssten sie
finding.pairing-too-often {a} und {b} sind {met}-mal aufeinandergetroffen, {due}-mal müssten sie
finding.index-full nur die letzten {most} Matches werden miteinander verglichen
finding.log-diverges Zeile {rally} ist die erste, die nicht aus den vorigen folgt; {disagree} von {rows} Zeilen stimmen nicht, {again}
finding.log-other-match {rows} {rows|Zeile gehört|Zeilen gehören} zu Match {match}
finding.log-out-of-order Zeile {rally} steht an der falschen Stelle
finding.log-duplicate Zeile {rally} kam zweimal: {certain}
finding.log-undo Zeile {rally} nimmt Zeile {undone} zurück
finding.log-undo-implied Zeile {rally} wurde zurückgenommen, der Stand geht danach zurück: {certain}
finding.log-winner-inferred Zeile {rally} hat keinen Gewinner; es war Team {side}
finding.log-winner-blank Zeile {rally} hat keinen Gewinner, und beide Teams passen
finding.log-winner-wrong Zeile {rally} nennt Team {named} als Gewinner; es war Team {side}: {certain}
finding.log-server-wrong Zeile {rally} nennt {named} als Aufschläger, an der Reihe war {due}: {certain}
finding.log-receiver-wrong Zeile {rally} nennt {named} als Rückschläger, an der Reihe war {due}: {certain}
finding.log-call-wrong Zeile {rally}: angesagt war {called}, richtig war {due}: {certain}
finding.log-call-reversed Zeile {rally}: angesagt war {called}, die Teams vertauscht; richtig war {due}: {certain}
finding.log-score-wrong Zeile {rally}: vermerkt ist {recorded}, es war {due}: {certain}
finding.log-score-shifted ab Zeile {rally} ist der vermerkte Stand verschoben: {recorded} statt {due}: {certain}
finding.log-rally-missing mindestens {rallies} {rallies|Ballwechsel fehlt|Ballwechsel fehlen} vor Zeile {rally} ({events}): {certain}
finding.log-tail-missing mindestens {rallies|der letzte Ballwechsel fehlt|die letzten Ballwechsel fehlen} ({rallies})
finding.log-row-extra ab Zeile {rally} {rows|ist|sind} {rows} {rows|Zeile|Zeilen} nicht geschehen oder ohne Wirkung: {certain}
finding.log-after-end ab Zeile {rally} {rows|wurde|wurden} {rows} Ballwechsel nach dem Ende des Spiels oder Matches gespielt
finding.log-order-slipped ab Zeile {rally} ist die Reihenfolge eine andere: {recorded}, an der Reihe war {due}: {certain}
finding.log-foul-missing vor Zeile {rally} änderte sich ein Punkt ohne Ballwechsel: ein technisches Foul von Team {side}? {certain}
finding.log-final-differs Spiel {game}: als Endstand ist {given} angegeben, die Ballwechsel enden bei {reached}: {certain}
finding.log-unfinished Spiel {game}: die Zeilen enden bei {score}, bevor jemand gewonnen hat
finding.log-event-refused Zeile {rally}: {event} ist dort nicht möglich: {reason}
finding.log-start-differs das Spiel begann nicht wie angegeben: {started} statt {stated}: {certain}
finding.log-end-change-missing Spiel {game}: bei der Hälfte ist kein Seitenwechsel vermerkt
finding.log-game-number Zeile {rally} nennt Spiel {named}, gespielt wurde Spiel {played}: {certain}
finding.log-other-scoring die Zeilen passen zu {fits}, nicht zu {format}
finding.log-unexplained die {rows} Zeilen sind nicht erklärt: was sie erklärt, lässt zu viele aus
finding.log-time-wrong die Zeit von Zeile {rally} passt nicht zu den Zeilen um sie
finding.log-convention das ganze Protokoll ist so gelesen: {convention}
finding.log-scores-mirrored von Zeile {rally} bis Zeile {to} sind die Teams im Stand vertauscht
finding.sheet-impossible kein Spiel hinterlässt diese Striche: {marks}
finding.sheet-several {states} Stände stimmen mit den Strichen überein; was es entscheidet: {settles}
finding.sheet-turns Aufschlagrechte ohne Punkt hinterlassen keine Spur; ihre Zahl ist unbekannt, wer aufschlägt nicht
finding.sheet-time-out-score die Auszeit von Team {side} ist bei {score} vermerkt, wo das Spiel nie stand

# Was das bedeutet
means.row-unreadable Die Zeile ist kein gültiges CSV oder JSON. Sie wurde übergangen, der Rest gelesen. Die Zeile berichtigen.
means.field-unreadable Das Feld enthält nicht, wofür seine Spalte da ist. Ohne Datum oder Auszeiten wird der Rest der Zeile geprüft; ohne anderes nicht.
means.score-as-date Tabellen lesen 11-9 als Tag und speichern ein Datum oder eine Zahl von Tagen. Der Stand wird vorgeschlagen, nie stillschweigend genommen. Spalten mit Ständen als Text formatieren.
means.missing-spelled Ein fehlender Wert ist verschieden geschrieben (etwa n/a, - und eine leere Zelle). Alle gelten als fehlend.
means.format-unknown Die Spalte nennt kein bekanntes Format, oder eine Ausgabe, in der es das nicht gibt. Die Zeile wurde nicht geprüft.
means.game-level Ein Gleichstand ist kein Endstand. Entweder war das Spiel nicht beendet, oder eine Zahl ist falsch.
means.game-unfinished Kein Team hat das Ziel erreicht. Vielleicht wurde das Match abgebrochen; dann braucht es einen Status.
means.game-margin Der Gewinner hat das Ziel, aber nicht den Vorsprung. Am ehesten ist eine Ziffer vertippt: mit dem Blatt vergleichen. Sonst war das Spiel nicht beendet, oder ein Punkt genügt in diesem Bewerb.
means.game-over-run Das Spiel war vorher zu Ende. Meist ist das Ziel ein anderes, eine Zahl falsch, oder es wurde nach dem Ende weitergespielt.
means.game-penalty-only Am ehesten ist eine Ziffer vertippt: mit dem Zettel vergleichen. Keine Folge von Ballwechseln endet so; mit einem technischen Foul ist es möglich, und dann ist das Foul vermerkt.
means.game-nothing Ein Spiel mit 0-0 wurde nicht gespielt. Leer lassen.
means.time-outs-too-many Mehr Auszeiten, als das Format erlaubt. Die des Schiedsrichters und medizinische zählen nicht.
means.match-empty Ein gespieltes Match braucht Spiele, wenigstens gewonnene Spiele oder Summen.
means.match-too-many-games Mehr Spiele, als das Format haben kann.
means.match-extra-game Ein Spiel ist eingetragen, nachdem ein Team gewonnen hatte. Es zählt nicht; vielleicht gehört es zu einem anderen Match.
means.match-undecided Jedes Spiel ist gültig, aber niemand hat genug gewonnen.
means.match-tied Wo alle Spiele gespielt werden, können beide gleich viele gewinnen. Der Bewerb muss das zulassen.
means.match-game-missing Ein Spiel in der Mitte hat keinen Stand.
means.winner-disagrees Der Gewinner eines Matches hat mehr Spiele. Entweder der Gewinner oder die Reihenfolge A-B der Stände ist falsch.
means.winner-missing Nur Summen sind angegeben, und das Team mit mehr Punkten muss nicht gewonnen haben.
means.sides-mirrored Zwei Meldungen eines Matches sind gleich, wenn man in einer die Teams vertauscht, aber die Spieler sind nicht vertauscht.
means.target-other Alle Spiele zusammen sind bei einem anderen Ziel gültig. Wahrscheinlich ist das Format der Zeile falsch.
means.player-both-sides Eine Kennung steht in beiden Teams.
means.player-twice Eine Kennung steht zweimal im selben Team.
means.side-players Im Einzel hat ein Team einen Spieler, im Doppel zwei.
means.single-game-event Das Regelbuch erlaubt ein Spiel bis 11 in Gruppen von sechs oder mehr.
means.status-games Was nicht gespielt wurde, hat keine Spiele; was abgebrochen ist, ist nicht entschieden.
means.status-winner Status und Gewinner, oder das Team, das aufhörte, widersprechen sich oder fehlen.
means.retirement-convention Die Ausgabe meldet eine Aufgabe auf übliche Weise. Diese Spiele werden vorgeschlagen; beendete Spiele gelten.
means.retirement-complete Die Spiele hatten das Match entschieden, so dass nichts aufzugeben war, oder ein Stand ist falsch.
means.retirement-before-play Vor der ersten Ansage zieht ein Team zurück. Der Status sollte das sagen.
means.retirement-unmarked Ein nicht beendetes letztes Spiel mit Gewinner ist meist eine Aufgabe, die als gewöhnliches Ergebnis eingetragen wurde.
means.forfeit-convention Die Ausgabe meldet einen Matchverlust auf übliche Weise. Diese Spiele werden vorgeschlagen; beendete Spiele gelten.
means.forfeit-full-score Ein Matchverlust hinterlässt einen üblichen Stand; diese Spiele sehen gespielt aus.
means.bye-opponent Ein Freilos heißt, dass es keinen Gegner gab.
means.reference-missing Was berichtigt oder fortgesetzt ist, muss die frühere Meldung nennen.
means.partial-checked Nur was genannt ist, wurde geprüft; der Rest kann es nicht werden.
means.games-won-impossible Kein Match dieses Formats endet mit diesen gewonnenen Spielen.
means.totals-impossible Keine gültigen Spiele haben diese Summen.
means.totals-disagree Was neben den Spielen angegeben ist, widerspricht ihnen.
means.role-missing Ein Teil der Teambegegnung hat kein Ergebnis.
means.role-unknown Ein Teil ist gemeldet, den die Regeln der Teambegegnung nicht haben.
means.role-twice Ein Teil ist mehr als einmal gemeldet.
means.role-player-too-often Ein Spieler nimmt an mehr Teilen teil, als die Regeln erlauben.
means.tie-breaker-missing Mannschaften im Gleichstand spielen eine Entscheidung, und sie hat kein Ergebnis.
means.tie-breaker-needless Die Entscheidung spielen nur Mannschaften im Gleichstand.
means.team-winner-disagrees Nach den Teilen hat die andere Mannschaft gewonnen.
means.team-score-disagrees Was angegeben ist, widerspricht den Teilen.
means.team-undecided Nach diesen Regeln hat niemand gewonnen.
means.team-part-unfinished Ein Teil ohne Gewinner kann nicht zählen.
means.same-match-agrees Das Match wurde zweimal mit demselben Ergebnis gemeldet. Eine Meldung zählt.
means.same-match-differs Das Match wurde zweimal gemeldet, und die Meldungen unterscheiden sich im genannten Feld. Die erste zählt, bis jemand entscheidet.
means.same-pairing-twice Dieselben Teams stehen in einer Runde eines Bewerbs zweimal, oder eine Liste hat ihr Match eines Tages zweimal. Ist es ein Match, eine Zeile streichen: beide würden zählen.
means.player-two-matches Alle anderen spielen in der Runde ein Match. Entweder die Runde oder der Spieler eines der beiden ist falsch.
means.date-outside Das Datum liegt Monate vor oder nach den anderen. Meist ist das Jahr oder die Reihenfolge von Tag und Monat vertippt. Das Datum berichtigen.
means.name-near Zwei Namen sind fast gleich. Sie bleiben zwei Personen; vielleicht ist einer verschrieben.
means.name-two-ids Ein Name hat zwei Kennungen. Es bleiben zwei Personen; vielleicht ist es eine.
means.pairing-missing In einer Gruppe trifft jeder auf jeden so oft, wie die Regeln sagen.
means.pairing-too-often In einer Gruppe trifft jeder auf jeden so oft, wie die Regeln sagen.
means.index-full Frühere Matches wurden vergessen, so dass doppelte unter ihnen nicht auffallen.
means.log-diverges Der Stand folgt nicht aus den Zeilen. Die Befunde der Berichtigung sagen, was es am einfachsten erklärt.
means.log-other-match Zeilen, die ein anderes Match nennen, wurden ausgelassen.
means.log-out-of-order Nummer oder Zeit der Zeile, oder der Stand, zeigt, dass sie woanders hingehört.
means.log-duplicate Eine Zeile wiederholt die vorige.
means.log-undo Der Schreiber nahm eine Zeile zurück.
means.log-undo-implied Der Stand geht zurück, ohne dass eine Zeile es sagt.
means.log-winner-inferred Der Gewinner ist nicht angegeben, folgt aber aus dem Rest.
means.log-winner-blank Der Gewinner ist nicht angegeben und folgt nicht aus dem Rest.
means.log-winner-wrong Der Gewinner widerspricht dem Stand und den Aufschlägern danach.
means.log-server-wrong Eine Zeile nennt einen Aufschläger, der nicht an der Reihe war, und die danach stimmen wieder.
means.log-receiver-wrong Eine Zeile nennt einen Rückschläger, der nicht an der Reihe war.
means.log-call-wrong Der angesagte Stand ist nicht der Stand.
means.log-call-reversed Der Stand des rückschlagenden Teams wurde zuerst angesagt.
means.log-score-wrong Der in einer Zeile vermerkte Stand ist nicht der Stand.
means.log-score-shifted Ein Punkt kam auf die falsche Seite, und so wurde weitergezählt.
means.log-rally-missing Hier fehlen Ballwechsel. Wo nur Aufschläger punkten, zeigt sich ein fehlender zweiter Aufschläger daran, dass alle späteren nicht stimmen.
means.log-tail-missing Die Zeilen hören vor dem Endstand auf.
means.log-row-extra Es sind zu viele Zeilen, oder ein Ballwechsel wurde wiederholt oder ein dritter Aufschläger gewährt.
means.log-after-end Ballwechsel wurden gespielt, nachdem das Spiel gewonnen war.
means.log-order-slipped Von hier an schlagen andere auf oder stehen anders, als die Reihenfolge es will. Ein Irrtum erklärt alle Zeilen danach.
means.log-foul-missing Ein Stand änderte sich so, dass nur eine Strafe es erklärt. Nach dem vermerkten Foul fragen.
means.log-final-differs Der Endstand folgt nicht aus den Ballwechseln: ein Tippfehler, oder der Endstand eines anderen Spiels.
means.log-unfinished Das Spiel ist nicht zu Ende, wo die Zeilen enden.
means.log-event-refused Das Ereignis ist in diesem Augenblick nicht möglich, etwa eine Auszeit, wenn keine übrig ist.
means.log-start-differs Ein anderes Team oder ein anderer Spieler schlug zuerst auf, als angegeben ist.
means.log-end-change-missing Das Protokoll vermerkt Seitenwechsel, diesen aber nicht.
means.log-game-number Die Zeile steht unter einem anderen Spiel.
means.log-other-scoring Das Format des Protokolls ist wahrscheinlich falsch: gezählt wurde nach dem anderen System.
means.log-unexplained Die Zeilen sind zu weit von jedem Match dieses Formats: was sie erklärt, lässt die meisten aus, oder es sind zu viele.
means.log-time-wrong Die Zeilen folgen aufeinander, wie sie stehen, so dass die Zeit falsch ist und nicht die Reihenfolge. Die Reihenfolge blieb.
means.log-convention Ein ganzes Protokoll, das überall auf dieselbe Weise falsch ist, folgt einer Gewohnheit seiner Quelle. Es wurde danach gelesen; die anderen Befunde gelten dem Rest.
means.log-scores-mirrored Vertauscht man in diesen Zeilen die Teams im Stand, geht das ganze Protokoll ohne Widerspruch auf.
means.sheet-impossible Keine Folge von Ballwechseln hinterlässt diese Striche.
means.sheet-several Die Striche lassen mehr als einen Stand zu. Die genannte Frage entscheidet es am leichtesten.
means.sheet-turns Aufschlagwechsel ohne Punkt dazwischen hinterlassen Striche an einer Stelle; wie viele es waren, ändert nicht, wer aufschlägt.
means.sheet-time-out-score Eine Auszeit ist mit dem Stand ihres Augenblicks vermerkt, und so stand das Spiel nie.

# Was stattdessen zu tun ist
instead.malformed Nachsehen, was jetzt kommen kann.
instead.log-only Als Berichtigung des Protokolls eintragen.
instead.closed Nur eine Berichtigung mit Begründung öffnet den Zettel wieder.
instead.over Einen falschen Eintrag berichtigen, sonst den Zettel abgeben: sheet.
instead.abandoned Mit resume fortsetzen oder den Zettel abgeben: sheet.
instead.no-such-player A1 oder B1 nennen.
instead.not-in-edition Nach dem weitermachen, was die Ausgabe hat; wo das nicht reicht, den Turnierleiter fragen.
instead.local-rule Den Turnierleiter fragen, ob die Veranstaltung eine solche Regel hat.
instead.not-started Erst das Spiel beginnen.
instead.not-in-play Warten, bis das Spiel begonnen hat.
instead.in-play Weiterspielen. Hätte das Spiel nicht beginnen sollen, den Eintrag zurücknehmen, der es begann: undo.
instead.no-first-server Auslosen und eintragen, wer was gewählt hat: fcA:serve, wenn Team A zuerst aufschlägt.
instead.first-settled War es falsch eingetragen, zurücknehmen: undo.
instead.wrong-side-first Das andere Team zuerst aufschlagen lassen. War die erste Wahl falsch eingetragen, diesen Eintrag berichtigen.
instead.not-its-choice Eintragen, was das andere Team wählt.
instead.undealt Erst eintragen, dass der Grund behoben ist: dealt.
instead.awaiting-medical Erst eintragen, was Fachleute sagen, oder dass die Bitte zurückgezogen ist.
instead.in-break Erst die Unterbrechung beenden: in.
instead.no-break Weiterspielen.
instead.none-left Weiterspielen: die Bitte kostet nichts.
instead.medical-used Das Spiel zur Sicherheit unterbrechen, solange die Versorgung es braucht.
instead.no-request Erst die Bitte eintragen, wenn es eine gab.
instead.player-out Ohne diesen Spieler weitermachen, wo die Regeln es erlauben; sonst eine Aufgabe eintragen.
instead.nobody-left Eine Aufgabe eintragen.
instead.absent-due Diesen Fehler eintragen.
instead.not-due Weiterspielen.
instead.not-fixed Weiterspielen: die Plätze folgen dem Stand.
instead.not-now Den richtigen Augenblick abwarten.
instead.second-verbal Eine technische Verwarnung geben.
instead.out-of-window Weiterspielen: das Ergebnis gilt.
instead.most-points Den Stand prüfen und den richtigen setzen: set.
refusal.not-now.exchange Partner dürfen die Felder nur bei einer Auszeit, beim Seitenwechsel oder zwischen den Spielen tauschen
instead.not-now.exchange Weiterspielen. In einem dieser Augenblicke noch einmal eintragen.
refusal.not-now.withdrawal ein Stand ist angesagt worden, also kann ein Team nur noch aufgeben
instead.not-now.withdrawal Eine Aufgabe eintragen: retA oder retB.
refusal.not-now.resume das Match ist nicht unterbrochen
instead.not-now.resume Weiterspielen.
refusal.not-now.sheet-returned das Match ist nicht beendet
instead.not-now.sheet-returned Weiterspielen. Ist es endgültig abgebrochen, erst das eintragen: abandon.
refusal.not-now.carried-verbal dieser Spieler hat schon eine Strafe mitgebracht
instead.not-now.carried-verbal War jener Eintrag falsch, ihn zurücknehmen: undo.
refusal.not-now.same-verbal der Partner hat diese Strafe nicht mitgebracht
instead.not-now.same-verbal Erst beim Partner eintragen, wie cwA1 es tut; dann zählt sie für beide einmal.
refusal.not-now.same-warning der Partner hat diese Strafe nicht mitgebracht
instead.not-now.same-warning Erst beim Partner eintragen, wie cwA1 es tut; dann zählt sie für beide einmal.
refusal.not-now.same-foul der Partner hat diese Strafe nicht mitgebracht
instead.not-now.same-foul Erst beim Partner eintragen, wie cwA1 es tut; dann zählt sie für beide einmal.
refusal.not-now.carried-warning dieser Spieler hat schon eine Strafe mitgebracht
instead.not-now.carried-warning War jener Eintrag falsch, ihn zurücknehmen: undo.
refusal.not-now.carried-foul dieser Spieler hat schon eine Strafe mitgebracht
instead.not-now.carried-foul War jener Eintrag falsch, ihn zurücknehmen: undo.
refusal.in-play.start-game dieses Spiel hat begonnen
instead.in-play.start-game Weiterspielen. Sind die Startaufschläger falsch, den Eintrag zurücknehmen, der es begann (undo), und sie nennen.
refusal.in-play.late-arrival es wird gespielt, so dass niemand mehr zu spät kommen kann
instead.in-play.late-arrival Weiterspielen.
refusal.first-settled.late-arrival das Match hat begonnen, so dass niemand mehr zu spät kommen kann
instead.first-settled.late-arrival Weitermachen; den Turnierleiter fragen, wenn ein Team fehlt.
instead.over.late-arrival Endete das Match durch einen falschen Eintrag, diesen zurücknehmen (undo); kamen beide Teams über die Grenze hinaus zu spät, wird das andere eingetragen, und das nimmt den Verlust zurück.
refusal.not-started.time-out vor dem Match gibt es keine Auszeit
instead.not-started.time-out Zur ersten Ansage übergehen.
refusal.no-break.time-in das Spiel war nicht unterbrochen
instead.no-break.time-in Weiterspielen: den Stand ansagen.
refusal.not-in-play.ends-changed die Seiten werden nur in einem Spiel gewechselt; zwischen den Spielen wechseln sie mit dem Beginn des nächsten
instead.not-in-play.ends-changed Die Startaufschläger des nächsten Spiels nennen.

# Was noch offen ist
reminder.help Die Hilfe ist noch nicht bei {player}.
reminder.medical Die Antwort der Fachleute zu {player} steht aus.
reminder.medical-waits Die medizinische Auszeit von {player} wartet, bis der Grund der Unterbrechung behoben ist.
reminder.concussion Bei {player} besteht Verdacht auf Gehirnerschütterung: Fachleute kümmern sich, und das Match kann nicht weitergespielt werden.
reminder.abandoned Das Match ist unterbrochen: es wird fortgesetzt, wie es stand, oder der Zettel wird abgegeben.
reminder.dealt Das Spiel ruht, {break}: es geht weiter, wenn der Grund behoben ist.
reminder.time-in Das Spiel ruht, {break}.
reminder.first-choice Die erste Wahl ist offen: wer aufschlägt, wer zurückschlägt, welche Seite.
reminder.who-first Offen ist, wer in Spiel {game} zuerst aufschlägt.
reminder.opening-point Spiel {game} beginnt mit einem Punkt für {side}.
reminder.ends-between Seitenwechsel vor Spiel {game}.
reminder.starters Nach den Startaufschlägern von Spiel {game} fragen; erster Aufschlag: {side}.
reminder.places Fragen, wer in Spiel {game} rechts steht; erster Aufschlag: {side}.
reminder.absent Der Spieler von {side}, der an der Reihe ist, ist ausgeschieden: dieser Fehler kommt zuerst.
reminder.starters-assumed Spiel {game} begann mit Eintrag {entry}, ohne dass jemand die Startaufschläger nannte: angenommen sind {a} und {b}.
reminder.places-assumed Spiel {game} begann mit Eintrag {entry}, ohne dass jemand sagte, wer rechts steht: angenommen sind {a} und {b}.
reminder.ends Seitenwechsel noch offen.
reminder.put-right Vor der Ansage sehen, dass das Team richtig steht: {server} schlägt von {court} auf.
reminder.frozen Eingefroren bei {score}: {side}, Punkte nur bei eigenem Aufschlag.
reminder.last-time-out {side}: keine Auszeit übrig.
reminder.notice {interval:capital}: noch {seconds} {seconds|Sekunde|Sekunden}. Bescheid geben.
reminder.clock-over {interval:capital}: die Zeit ist seit {seconds} {seconds|Sekunde|Sekunden} um.
reminder.sheet Das Match ist beendet: den Zettel unterschreiben lassen und abgeben.
interval.time-out Auszeit
interval.medical medizinische Auszeit
interval.equipment Auszeit für Ausrüstung
interval.end-change Seitenwechsel
interval.between-games Zeit zwischen den Spielen

# Eintrag durch Fragen und kurze Antworten
guided.what Was war falsch?
guided.how Wie endete der Ballwechsel?
guided.who-stopped Wer hat unterbrochen?
guided.who-raised Wer hat es vorgebracht?
guided.how-far Wie weit war der Ballwechsel?
guided.since Was ist seitdem geschehen?
guided.was-so War es so?
guided.was-it-so War das so: {mistake}?
guided.misled Sah der Spieler wegen der falschen Ansage einen falschen Aufschläger?
guided.asked War der Schiedsrichter gefragt worden und hatte gesagt, es stimme?
guided.medical Was ist zu vermerken?
guided.player Welcher Spieler?
guided.penalty Welche Strafe?
guided.side Welches Team?
guided.which-entry Welcher Eintrag ist falsch? Seine Nummer nennen.
guided.instead Eintrag {entry} lautet {was}. Was geschah stattdessen?
guided.reason Die Begründung in wenigen Worten.
reply.yes ja
reply.no nein
reply.side {side}
reply.player {player}
reply.referee der Schiedsrichter
reply.none nichts oder etwas anderes
reply.nothing nichts geschah
reply.stopped er wurde unterbrochen
reply.won gewonnen von {side}
reply.last es ist der in Eintrag {entry}

# Was eine Berichtigung geändert hat
changed.entry Eintrag {entry} war: {was}. Er ist: {is}.
changed.nothing nichts
changed.typed {entry}
changed.final Spiel {game} endet jetzt {score}, bei Eintrag {entry}.
changed.withdrawn Das Ende eines Spiels bei Eintrag {entry}, {was}, gilt nicht mehr.
changed.later {entries} {entries|späterer Eintrag bewirkt|spätere Einträge bewirken} jetzt etwas anderes.
changed.score Stand jetzt: Spiel {game}, {score} (war Spiel {old}, {was}).
changed.same Der Stand bleibt: Spiel {game}, {score}.
changed.games Spiele jetzt {games} (waren {was}).

# Warum ein Protokoll eine Berichtigung nicht annahm
correction.parts seine Teile widersprechen einander
correction.no-event ein solches Ereignis gibt es nicht
correction.decider ein Wort sagt, wer entschieden hat
correction.note eine Notiz hat höchstens 400 Byte in einer Zeile, ohne Leerzeichen am Ende
correction.line die Zeile ist nicht zu lesen: {detail}
correction.format dieses Format ist nicht zu spielen: {detail}
correction.pending das Format des nächsten Spiels könnte nicht in Kraft treten
correction.players aus einem Einzel wird kein Doppel und umgekehrt
correction.no-next auf dieses Spiel folgt keines
correction.no-game so viele Spiele hat jenes Match nicht
correction.decided die gewonnenen Spiele würden jenes Match entscheiden
correction.time-outs es sind mehr Auszeiten genommen, als jenes Spiel gibt
correction.game-over bei diesem Stand wäre das Spiel zu Ende
correction.places nach der Aufschlagfolge jenes Formats stehen die Spieler anderswo
correction.no-final das eben beendete Spiel kann keines jenes Formats sein: die Änderung für das nächste eintragen
correction.no-position jenes Format hat keine Stellung wie diese
correction.last-point nach dem letzten Punkt wird in dieser Ausgabe nichts mehr entschieden
correction.stands nach dieser Ausgabe zählt der Ballwechsel, wie er gespielt wurde
correction.too-late für diese Entscheidung ist es zu spät
correction.want-number erwartet wird die Nummer eines Eintrags
correction.below-zero der Stand fiele unter null: den Stand mit set setzen
correction.not-held dieser Eintrag gilt nicht mehr
correction.reopen nur eine Berichtigung mit Begründung öffnet ihn wieder
correction.no-entry kein solcher Eintrag
correction.want-rally erwartet wird ein gewonnener Ballwechsel, mit dem, was falsch war
correction.want-format erwartet wird ein Format, now oder next, und wer entschied
correction.no-text dieser Eintrag hat keinen Text
correction.no-undo es gibt nichts zurückzunehmen
correction.no-redo es gibt nichts wiederzubringen
correction.game-ended das Spiel ist seitdem beendet: den Stand mit set setzen
correction.ruled-then über diesen Ballwechsel wurde beim Eintrag entschieden: ihn mit amend berichtigen
correction.ruled über diesen Ballwechsel ist schon entschieden
correction.elsewhere dieser Eintrag gehörte zu einem anderen Spiel oder einem anderen Abschnitt davon
correction.nothing-after danach steht nichts
correction.want-event danach stehen eine Nummer und ein Ereignis, bei amend noch eine Begründung
correction.point-only seit dem nächsten Aufschlag kann nur ein Punkt wegfallen, den der Ballwechsel gab
correction.across keine Entscheidung reicht über einen gesetzten Stand oder Formatwechsel zurück: den Stand mit set setzen
correction.other-winner diesen Ballwechsel gewann das andere Team: ihn mit amend berichtigen
correction.ruled-since seitdem ist über einen anderen Ballwechsel entschieden: den Stand mit set setzen
correction.sheet-stated ein gesetzter Stand gibt den Zettel nicht ab
correction.rewind-game zurückspulen geht nur im laufenden Spiel, zwischen den Spielen in das eben gewonnene
correction.rewind-stated zurückspulen geht nicht über einen gesetzten Stand
correction.rewind-format zurückspulen geht nicht über einen Formatwechsel
correction.penalty-opens eine Strafe seitdem eröffnet das nächste Spiel: den Stand mit set setzen
correction.penalty-moved eine Strafe änderte den Stand seitdem: den Stand mit set setzen
correction.beside ein Format ohne Namen hat keinen Text und wird daneben angegeben
correction.forfeit-since ein Spielverlust seitdem: den Stand mit set setzen
correction.struck-only eine Berichtigung kann nur gestrichen werden
correction.concussion ein Verdacht auf Gehirnerschütterung wird nur durch eine Berichtigung mit Begründung aufgehoben

# Felder, die es nicht gibt, und die Zählung anderer Spiele
court.none ungeteiltem Feld
depth.none irgendwo
`
