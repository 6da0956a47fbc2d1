package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// The test runs itself as the program, which it then kills.
func TestMain(m *testing.M) {
	if dir := os.Getenv("BOARD_TEST_DIR"); dir != "" {
		os.Exit(run([]string{"-addr", "127.0.0.1:0", "-dir", dir, "-courts", "2"}, nil, os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// program is the server in a process of its own.
type process struct {
	cmd   *exec.Cmd
	enter []string // by court
}

func started(t *testing.T, dir string) *process {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "BOARD_TEST_DIR="+dir)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	cmd.Stderr = os.Stderr
	require.NoError(t, cmd.Start())
	p := &process{cmd: cmd}
	lines := bufio.NewScanner(out)
	for len(p.enter) < 2 && lines.Scan() {
		link := regexp.MustCompile(`http://\S+/court/\d+/\S+`).FindString(lines.Text())
		require.NotEmpty(t, link, lines.Text())
		p.enter = append(p.enter, link)
	}
	require.Len(t, p.enter, 2)
	t.Cleanup(p.kill)
	return p
}

// kill is kill -9.
func (p *process) kill() {
	_ = p.cmd.Process.Kill()
	_ = p.cmd.Wait()
}

func asked(t testing.TB, method, url, body string) (status int, answer map[string]any) {
	t.Helper()
	req, err := http.NewRequest(method, url, strings.NewReader(body))
	require.NoError(t, err)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return 0, nil // it was killed
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	if err != nil {
		return 0, nil
	}
	_ = json.Unmarshal(text, &answer)
	return res.StatusCode, answer
}

// drawn is the next board that a court sends, and its words.
func drawn(t *testing.T, enter string) (board rally.Snapshot, words map[string]string) {
	t.Helper()
	url := regexp.MustCompile(`/court/(\d+)/.*`).ReplaceAllString(enter, "/live/$1")
	res, err := http.Get(url)
	require.NoError(t, err)
	defer res.Body.Close()
	require.Equal(t, "text/event-stream", res.Header.Get("Content-Type"))
	lines := bufio.NewScanner(res.Body)
	lines.Buffer(nil, 1<<20)
	event := ""
	for lines.Scan() {
		name, data, _ := strings.Cut(lines.Text(), ": ")
		switch {
		case name == "event":
			event = data
		case name == "data" && event == "words":
			require.NoError(t, json.Unmarshal([]byte(data), &words)) // added to what came before
		case name == "data":
			require.NoError(t, json.Unmarshal([]byte(data), &board))
			return board, words
		}
	}
	t.Fatal("no board came")
	return board, words
}

func TestBoard(t *testing.T) {
	p := started(t, t.TempDir())
	court := p.enter[0]
	status, answer := asked(t, "POST", court, `{"id":"a","n":1,"do":"in"}`)
	require.Equal(t, 409, status)
	require.NotEmpty(t, answer["error"])
	for i, do := range []string{"fcA:serve", "gA1B1", "A"} {
		status, answer = asked(t, "POST", court, fmt.Sprintf(`{"id":"b%d","n":%d,"do":%q}`, i, i+1, do))
		require.Equal(t, 200, status, answer)
	}
	require.Equal(t, "point", answer["did"])
	for _, c := range []struct {
		name, method, url, body string
		status                  int
	}{
		{"again under the same name", "POST", court, `{"id":"b2","n":3,"do":"A"}`, 200},
		{"the same name for something else", "POST", court, `{"id":"b2","n":3,"do":"B"}`, 400},
		{"a number that is taken", "POST", court, `{"id":"c","n":3,"do":"B"}`, 409},
		{"no entry", "POST", court, `{"id":"d","do":"??"}`, 400},
		{"no JSON", "POST", court, `A`, 400},
		{"another field", "POST", court, `{"what":1}`, 400},
		{"too much", "POST", court, `{"id":"` + strings.Repeat("x", mostBody) + `"}`, 400},
		{"a correction that cannot be", "POST", court, `{"id":"e","do":"amend 9 B"}`, 409},
		{"of another match", "POST", court, `{"id":"e","match":2,"do":"A"}`, 409},
		{"the next match before this is over", "POST", court + "/next", `{"match":2}`, 409},
		{"a wrong secret", "POST", court + "x", `{"id":"f","do":"A"}`, 404},
		{"no secret", "POST", court[:strings.LastIndex(court, "/")], `{"id":"f","do":"A"}`, 405},
		{"a court that is not there", "GET", strings.Replace(court, "/court/1/", "/court/9/", 1), "", 404},
		{"the page of whoever watches", "GET", court[:strings.LastIndex(court, "/")], "", 200},
		{"the page of whoever enters", "GET", court, "", 200},
		{"names that cannot be", "PUT", court, `{"sides":[{"players":[{"id":"x"},{"id":"x"}]},{"players":[{},{}]}],"left":"A"}`, 400},
		{"names", "PUT", court, `{"sides":[{"players":[{"name":"<b>Mei-Lin</b>","mark":"cap"},{}]},{"players":[{},{}]}],"left":"B"}`, 200},
	} {
		t.Run(c.name, func(t *testing.T) {
			time.Sleep(100 * time.Millisecond) // no faster than a court may
			status, answer := asked(t, c.method, c.url, c.body)
			require.Equal(t, c.status, status, answer)
			if c.status > 400 && c.status != 404 && c.status != 405 {
				require.NotEmpty(t, answer["error"])
			}
		})
	}
	board, words := drawn(t, court)
	require.Equal(t, 3, board.Entries)
	require.Equal(t, [2]int{1, 0}, board.Score)
	require.Equal(t, "1-0-2", board.Call)
	require.Equal(t, "<b>Mei-Lin</b>", board.Setup.Name(rally.A1))
	require.Equal(t, "A", board.Undo)
	require.Contains(t, words["event.tB"], "time-out, B1")
	require.NotEmpty(t, words["refusal.none-left"])
	time.Sleep(300 * time.Millisecond)
	began := time.Now()
	status, _ = asked(t, "POST", court, `{"id":"g","do":"tB"}`)
	require.Equal(t, 200, status)
	board, _ = drawn(t, court)
	require.NotNil(t, board.Clock)
	require.LessOrEqual(t, board.Clock.Remaining, int64(60_000))
	require.GreaterOrEqual(t, board.Clock.Remaining, 59_000-time.Since(began).Milliseconds())
	var hasty atomic.Int32
	var group sync.WaitGroup
	for range 40 {
		group.Go(func() {
			if status, _ := asked(t, "POST", court, `{}`); status == http.StatusTooManyRequests {
				hasty.Add(1)
			}
		})
	}
	group.Wait()
	require.Positive(t, hasty.Load())
}

// TestPhone sends what a phone holds that had no connection, while another one enters,
// and goes on to the next match.
func TestPhone(t *testing.T) {
	court := started(t, t.TempDir()).enter[1]
	hour := time.Now().Add(-time.Hour).UnixMilli()
	batch := ""
	for i, do := range []string{"fcA:serve", "gA1B1", "A", "B", "amend 3 B", "A", "A", "tB", "undo"} {
		batch += fmt.Sprintf(`{"id":"one-%d","match":1,"n":%d,"do":%q,"ms":%d}`+"\n", i, i+1, do, hour+int64(i)*1000)
	}
	status, answer := asked(t, "POST", court, batch)
	require.Equal(t, 200, status, answer)
	require.EqualValues(t, 9, answer["entries"])
	status, answer = asked(t, "POST", court, batch)
	require.Equal(t, 200, status, answer)
	require.Equal(t, true, answer["again"])
	require.EqualValues(t, 9, answer["entries"], "sent twice, counted once")
	board, words := drawn(t, court)
	require.Equal(t, "tB", board.Redo)
	require.Contains(t, words["redo"], "time-out")

	status, answer = asked(t, "POST", court, `{"id":"two-1","n":10,"do":"amend 6 B"}`)
	require.Equal(t, 200, status, answer)
	_, words = drawn(t, court)
	require.Contains(t, words["undo"], "entry 6 repaired: rally won")
	status, answer = asked(t, "POST", court, `{"id":"one-9","n":10,"do":"A"} {"id":"one-10","n":11,"do":"A"}`)
	require.Equal(t, 409, status)
	require.Equal(t, "stale", answer["code"])
	require.EqualValues(t, 10, answer["entries"])
	status, answer = asked(t, "GET", court+"/log", "")
	require.Equal(t, 200, status)
	require.Equal(t, "amend 6 B", answer["log"].([]any)[9])

	status, answer = asked(t, "POST", court, `{"id":"end","do":"retA"} {"do":"??"} {"do":"A"}`)
	require.Equal(t, 400, status)
	require.EqualValues(t, 11, answer["entries"], "up to the one that was refused")
	for range 2 {
		status, answer = asked(t, "POST", court+"/next", `{"match":2,"format":"rally-singles-11@2026","setup":{"sides":[{"players":[{"name":"Mei-Lin"},{}]},{"players":[{},{}]}]}}`)
		require.Equal(t, 200, status, answer)
		require.EqualValues(t, 2, answer["match"])
		require.EqualValues(t, 0, answer["entries"])
	}
	status, answer = asked(t, "POST", court, `{"match":1,"do":"A"}`)
	require.Equal(t, 409, status)
	require.Equal(t, "other-match", answer["code"])
	board, _ = drawn(t, court)
	require.Equal(t, "rally-singles-11@2026", board.Format)
	require.Equal(t, "Mei-Lin", board.Setup.Name(rally.A1))

	req, err := http.NewRequest(http.MethodOptions, court, nil)
	require.NoError(t, err)
	res, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	require.NoError(t, res.Body.Close())
	require.Equal(t, "*", res.Header.Get("Access-Control-Allow-Origin"))
	require.Contains(t, res.Header.Get("Access-Control-Allow-Headers"), "Content-Type")
}

// TestKilled kills the program with kill -9 while its courts are entered, and finds
// every entry that it had answered, each once, whatever was sent again.
func TestKilled(t *testing.T) {
	dir := t.TempDir()
	answered := [2]map[string]int{{}, {}} // by court: the number that each request was given
	rounds := 4
	if testing.Short() {
		rounds = 2
	}
	var open [2]string // the request that had no answer
	for round := range rounds {
		p := started(t, dir)
		var group sync.WaitGroup
		var taken [2]atomic.Int32
		for c := range 2 {
			group.Add(1)
			go func() {
				defer group.Done()
				for i := 0; ; i++ {
					id := fmt.Sprintf("%d-%d", round, i)
					if open[c] != "" {
						id = open[c]
					}
					do := "undo"
					if of := id[len(id)-1]; round == 0 && id == "0-0" {
						do = "fcA:serve"
					} else if of%2 == 1 || round == 0 && id == "0-1" {
						do = "replay"
					}
					open[c] = id
					status, answer := asked(t, "POST", p.enter[c], fmt.Sprintf(`{"id":%q,"do":%q}`, id, do))
					switch status {
					case 0:
						return
					case 200:
						answered[c][id] = int(answer["n"].(float64))
						open[c] = ""
						taken[c].Add(1)
					case http.StatusTooManyRequests:
						time.Sleep(20 * time.Millisecond)
					default:
						open[c] = "" // refused
					}
				}
			}()
		}
		for taken[0].Load() < 6 || taken[1].Load() < 6 {
			time.Sleep(time.Millisecond)
		}
		time.Sleep(time.Duration(round*37) * time.Millisecond)
		p.kill()
		group.Wait()
	}
	for c := range 2 {
		text, err := os.ReadFile(filepath.Join(dir, fmt.Sprintf("court-%d-match-1.jsonl", c+1)))
		require.NoError(t, err)
		rec, problems, err := record.Recover(bytes.NewReader(text))
		require.NoError(t, err)
		for _, p := range problems {
			require.Equal(t, record.ErrorCode("torn"), p.Code, p.Error())
		}
		require.Greater(t, len(answered[c]), 5)
		for id, n := range answered[c] {
			require.LessOrEqual(t, n, rec.Log.Len())
			require.Equal(t, 1, strings.Count(string(text), fmt.Sprintf(`"request":%q`, id)))
			require.Regexp(t, fmt.Sprintf(`(?m)^\{"n":%d,.*"request":%q`, n, id), string(text))
		}
		t.Logf("court %d: %d answered, %d in the record", c+1, len(answered[c]), rec.Log.Len())
	}
}

// What cannot be done ends with exit code 2 and a line that says why.
func TestBadCommandLines(t *testing.T) {
	for _, args := range [][]string{{"-nonsense"}, {"-courts", "0", "-dir", t.TempDir()}, {"-format", "chess", "-dir", t.TempDir()}, {"-addr", "nowhere:x", "-dir", t.TempDir()}} {
		var out, errs strings.Builder
		require.Equal(t, program.Failed, run(args, nil, &out, &errs), args)
		require.NotEmpty(t, errs.String(), args)
	}
}
