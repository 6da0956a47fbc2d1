"""An engine in Python, written from the pages and data of folder conformance alone.

It plays rallies, games and matches of side-out and rally scoring, in singles and
doubles, and claims the profiles plumbing, sideout-singles, sideout-doubles,
rally-2025 and rally-2026. What it does not play it carries through. A match is
the fields of its line (LINE.md); what a format is stands in formats.json.

    go run ./conformance/cmd/checkengine -- python3 examples/peer-py/engine.py
"""
import json
import pathlib
import re
import sys

FORMATS = json.loads((pathlib.Path(__file__).parents[2] / "conformance/formats.json").read_text())
EDITIONS = [e["edition"] for e in FORMATS["editions"]]
PROFILES = {"plumbing", "sideout-singles", "sideout-doubles", "rally-2025", "rally-2026"}
BEFORE = ("L2 game=0 won=0:0 score=0-0 opens=0:0 serve=- receive=- A=-- B=-- first=- start=- ends=0 due=- phase=before result=- break=- "
          "timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----")
EFFECTS = ["point", "second-server", "side-out", "replay", "withheld", "game-started", "game-won", "match-won", "ends-due", "ends-changed",
           "break", "time-in", "time-out-charged", "last-time-out", "closed"]
FAULTS = "foot serve short early ten net out bounce nvz twice body touch plane receiver stopped timeout absent distract other".split()


class Skip(Exception):
    """What this engine does not play."""


class Refused(Exception):
    """An event that changes nothing."""


def shape_of(format_id):
    """The row of formats.json that a format id stands for; none for readings of open points."""
    shape, _, edition = format_id.partition("@")
    for row in FORMATS["shapes"]:
        first, _, last = row["editions"].partition("..")
        if row["shape"] == shape and edition in EDITIONS and EDITIONS.index(first) <= EDITIONS.index(edition) <= EDITIONS.index(last):
            return row
    raise Skip("does not play " + format_id)


class Match:
    def __init__(self, format_id, start):
        self.shape = shape_of(format_id)
        line = start.get("from") or BEFORE
        self.f = dict(word.split("=", 1) for word in line.split(" ")[1:])
        if not start.get("from"):
            self.f["first"] = start["first"]
            if start.get("servers"):
                self.open(start["servers"])

    # Pairs are A:B or A-B; a side is A or B.
    def pair(self, name):
        return dict(zip("AB", map(int, re.split("[:-]", self.f[name]))))

    def put(self, name, pair, between=":"):
        self.f[name] = f"{pair['A']}{between}{pair['B']}"

    def game(self):
        return self.shape["last" if int(self.f["game"]) == self.shape["match"]["games"] else "game"]

    def line(self):
        return "L2 " + " ".join(f"{name}={value}" for name, value in self.f.items())

    def call(self):
        if self.f["phase"] != "play":
            return ""
        side, score, number = self.f["serve"][0], self.pair("score"), self.f["serve"][-1]
        return f"{score[side]}-{score[other(side)]}" + ("" if number == "-" else "-" + number)

    def open(self, servers):
        """The next game begins: the other side serves first than in the one before."""
        f, n = self.f, int(self.f["game"]) + 1
        if n > 1:
            f["first"] = other(f["first"])
            f["ends"] = f["ends"][0]
            if self.shape["match"]["change_ends"]:
                f["ends"] = "10"[int(f["ends"])]
        f.update(game=str(n), start=servers, phase="play", result="-", score=f["opens"].replace(":", "-"), opens="0:0")
        game = self.game()
        # A turn of one begins with number 2.
        number = "-" if game["servers"] == 1 else str(game["servers"] - game["first_turn"] + 1)
        self.stand(f["first"] + servers[servers.index(f["first"]) + 1], number)

    def stand(self, server, number):
        """Everybody takes the places of the score."""
        f, score, side = self.f, self.pair("score"), server[0]
        if self.game()["sides"] == "singles":
            court = "RL"[score[side] % 2]
            f["A"] = f["B"] = {"R": "1-", "L": "-1"}[court]
            f.update(serve=f"{side}1@{court}#{number}", receive=other(side) + "1")
            return
        for s in "AB":
            starter = f["start"][f["start"].index(s) + 1]
            f[s] = starter + partner(starter) if score[s] % 2 == 0 else partner(starter) + starter
        court = f[side].index(server[1])
        f.update(serve=f"{server}@{'RL'[court]}#{number}", receive=other(side) + f[other(side)][court])

    def play(self, event):
        f = self.f
        word = re.fullmatch(r"([AB])(:(\w+))?|replay|g([AB])([12])([AB])([12])|t[AB]|in|ends|sheet|.*", event)
        rally = event == "replay" or word[1] and (not word[3] or word[3] in FAULTS)
        if not rally and not word[4] and not re.fullmatch("t[AB]|in|ends|sheet", event):
            if re.fullmatch("[C-Z]", event):
                raise Refused("malformed")
            raise Skip("does not play " + event)
        if f["phase"] in ("closed", "over") and not (event == "sheet" and f["phase"] == "over"):
            raise Refused(f["phase"])
        if event == "sheet":
            if f["phase"] != "over":
                raise Refused("not-now")
            f["phase"] = "closed"
            return ["closed"]
        if not rally and not word[4]:
            raise Skip("plays no breaks and no end changes")
        did = set()
        if f["phase"] in ("before", "between"):  # a rally opens the game, with the starting servers of the last one
            servers = "A1B1" if f["start"] == "-" else f["start"]
            if word[4]:
                servers = event[1:] if word[4] == "A" else event[3:] + event[1:3]
            self.open(servers)
            did.add("game-started")
        elif word[4]:
            raise Refused("in-play")
        if word[4]:
            return sorted(did, key=EFFECTS.index)
        if event == "replay":
            did.add("replay")
        else:
            did |= self.rally(word[1])
        if f["break"] != "-":  # a rally ends a break
            f["break"] = "-"
            did.add("time-in")
        return sorted(did, key=EFFECTS.index)

    def rally(self, winner):
        f, game, score = self.f, self.game(), self.pair("score")
        server, number, side = f["serve"][:2], f["serve"][-1], f["serve"][0]
        scores = winner == side or game["scorer"] == "either"
        after = {**score, winner: score[winner] + 1}
        wins = after[winner] >= game["target"] and after[winner] - score[other(winner)] >= game["win_by"]
        did = set()
        if scores and wins and winner != side and game["freeze"] == "win-on-serve":
            scores, wins = False, False
            did.add("withheld")
        if scores:
            if score[winner] == 255:
                raise Refused("most-points")
            did.add("point")
            self.put("score", after, "-")
            if wins:
                return did | self.end(winner)
            if game["change_ends_at"] and after[winner] == game["change_ends_at"] > score[other(winner)] and "m" not in f["ends"]:
                f["due"] = "e"
                did.add("ends-due")
        if winner == side:
            self.stand(server, number)
        elif game["servers"] == 2 and number == "1":
            self.stand(side + partner(server[1]), "2")
            did.add("second-server")
        else:
            self.stand(winner + "1", "1" if game["servers"] == 2 else "-")  # who stands where
            if game["sides"] == "doubles":  # whoever is right for the score serves
                self.stand(winner + f[winner][0], "1" if game["servers"] == 2 else "-")
            did.add("side-out")
        return did

    def end(self, winner):
        f, match = self.f, self.shape["match"]
        won = self.pair("won")
        won[winner] += 1
        self.put("won", won)
        f.update(serve="-", receive="-", A="--", B="--", due="-", timeouts="0:0", phase="between")
        decided = won[winner] > match["games"] // 2 and not match["play_all"]
        if not decided and won["A"] + won["B"] < match["games"]:
            return {"game-won"}
        f["phase"] = "over"
        f["result"] = "tie" if won["A"] == won["B"] else max("AB", key=won.get)
        return {"game-won", "match-won"}


def other(side):
    return "B" if side == "A" else "A"


def partner(player):
    return "2" if player == "1" else "1"


def answer(q):
    if q["cmd"] == "start":
        return {"version": 1, "engine": {"name": "peer-py", "version": "1.0.0", "language": "Python"}, "commands": ["case"]}
    if q["cmd"] == "profile":
        formats = [f for f in q["formats"] if "+" not in f] if q["profile"] in PROFILES else []
        if q["profile"] == "plumbing":
            formats = [f for f in formats if re.match("sideout|rally", f)]
        if not formats:
            raise Skip("not played")
        return {"formats": formats}
    if q["cmd"] == "case":
        match = Match(q["format"], q["start"])
        answers = [{"line": match.line(), "call": match.call(), "effects": []}]
        for event in q["events"]:
            before = dict(match.f)
            try:
                effects, refused = match.play(event), ""
            except Refused as code:
                match.f, effects, refused = before, [], str(code)
            answers.append({"line": match.line(), "call": match.call(), "effects": effects} | ({"refused": refused} if refused else {}))
        return {"answers": answers}
    if q["cmd"] == "stop":
        return {}
    raise ValueError("unknown command " + q["cmd"])


for request in map(json.loads, sys.stdin):
    reply = {"seq": request["seq"]}
    try:
        reply["result"] = answer(request)
    except Skip as why:
        reply["skipped"] = {"reason": str(why)}
    except Exception as error:  # the protocol wants to hear of it
        reply["errored"] = {"message": f"{type(error).__name__}: {error}"}
    print(json.dumps(reply), flush=True)
    if request["cmd"] == "stop":
        break
