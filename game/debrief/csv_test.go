package debrief_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
)

func exported(t *testing.T, r debrief.Report) string {
	t.Helper()
	var b strings.Builder
	if err := r.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestCSV(t *testing.T) {
	q := question("q1")
	q.Options = []string{"=1+1", "a \"marten\", pine", "fisher"}
	g := opened(t, 3, game.Round{Kind: game.Buzz, Seconds: 20, Points: 100, Penalty: 25, Questions: []game.Question{q}},
		game.Round{Kind: game.Open, Seconds: 20, Points: 100, Questions: []game.Question{q}})
	for i, name := range []string{"=SUM(A1)", "@home", "-Voles, 2nd"} {
		g.do(game.Command{Type: game.Rename, By: "host", Team: id(i + 1), Name: name})
	}
	g.now += 1500
	g.press(1, wrong)
	g.press(2, right)
	g.host(game.Next, game.Next)
	g.answer(2, 2)
	g.host(game.Close)
	want := "game,date,round,kind,question,subject,team,option,key,right,ms,points\r\n" +
		"otter-den-42,2026-03-14,1,buzz,q1,skull,'=SUM(A1),'=1+1,\"a \"\"marten\"\", pine\",0,1500,-25\r\n" +
		"otter-den-42,2026-03-14,1,buzz,q1,skull,'@home,\"a \"\"marten\"\", pine\",\"a \"\"marten\"\", pine\",1,1500,100\r\n" +
		"otter-den-42,2026-03-14,2,open,q1,skull,'=SUM(A1),,\"a \"\"marten\"\", pine\",0,,0\r\n" +
		"otter-den-42,2026-03-14,2,open,q1,skull,'@home,fisher,\"a \"\"marten\"\", pine\",0,0,0\r\n" +
		"otter-den-42,2026-03-14,2,open,q1,skull,\"'-Voles, 2nd\",,\"a \"\"marten\"\", pine\",0,,0\r\n"
	got := exported(t, debrief.Of(g.log, nil))
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	if rows, err := csv.NewReader(strings.NewReader(got)).ReadAll(); err != nil || len(rows) != 6 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}

// full is a disk without room.
type full struct{}

var errFull = errors.New("no room")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestCSVSaysWhatFailed(t *testing.T) {
	r := sat(t, []string{"1"})
	if err := r.WriteCSV(full{}); !errors.Is(err, errFull) || !strings.Contains(err.Error(), "otter-den-42") {
		t.Errorf("got %v", err)
	}
}

// TestAnotherProgram recomputes the numbers from the exported file with awk.
func TestAnotherProgram(t *testing.T) {
	awk, err := exec.LookPath("awk")
	if err != nil {
		t.Skip("awk is not installed: install it to check the numbers with another program")
	}
	for _, tc := range []struct{ seed, teams, questions int }{{1, 5, 24}, {2, 12, 40}, {3, 40, 40}} {
		c := newClub(uint64(tc.seed), 6)
		r := debrief.Of(c.meet(t, tc.teams, tc.questions), c.facts)
		cmd := exec.Command(awk, "-f", "testdata/recompute.awk")
		cmd.Stdin = strings.NewReader(exported(t, r))
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		compareLines(t, string(out), lines(r))
	}
}

func compareLines(t *testing.T, out string, want map[string]debrief.Figure) {
	t.Helper()
	got := strings.Split(strings.TrimSpace(out), "\n")
	for _, line := range got {
		name, value, _ := strings.Cut(line, "\t")
		ours, ok := want[name]
		theirs, err := strconv.ParseFloat(value, 64)
		switch {
		case !ok:
			t.Errorf("awk has %s, we don't", name)
		case !ours.Defined() && value != "undefined":
			t.Errorf("%s: ours is undefined, awk has %s", name, value)
		case ours.Defined() && (err != nil || math.Abs(float64(ours)-theirs) > 1e-9):
			t.Errorf("%s: ours is %v, awk has %s", name, ours, value)
		}
	}
	if len(got) != len(want) {
		t.Errorf("awk has %d numbers, we have %d", len(got), len(want))
	}
	t.Logf("%d numbers are equal", len(got))
}

// lines names a report's numbers as the other program does.
func lines(r debrief.Report) map[string]debrief.Figure {
	out := map[string]debrief.Figure{"test teams": debrief.Figure(r.Test.Teams), "test items": debrief.Figure(r.Test.Items),
		"test mean": r.Test.Mean, "test sd": r.Test.SD, "test kr20": r.Test.KR20, "test kr21": r.Test.KR21}
	share := func(name string, s debrief.Share) {
		out[name+" right"], out[name+" of"] = debrief.Figure(s.Right), debrief.Figure(s.Of)
		out[name+" share"], out[name+" low"], out[name+" high"] = s.P, s.Low, s.High
	}
	for _, team := range r.Teams {
		name := "team " + team.Name
		if strings.HasPrefix(team.Name, "=") {
			name = "team '" + team.Name
		}
		share(name, team.Share)
		out[name+" points"] = debrief.Figure(team.Score)
	}
	for _, it := range r.Questions {
		name := fmt.Sprintf("question %d/%s", it.Round+1, it.ID)
		share(name, it.Share)
		if it.Answered > 0 {
			out[name+" median"] = it.Time.Median
		}
		if it.Kind == game.Open {
			out[name+" item-total"], out[name+" item-rest"] = it.PointBiserial, it.Corrected
		}
	}
	for _, m := range r.Confusions {
		for k, row := range m.Counts {
			for taken, n := range row {
				if n > 0 {
					out[fmt.Sprintf("taken %s: %s for %s", m.Subject, m.Names[k], m.Names[taken])] = debrief.Figure(n)
				}
			}
		}
	}
	return out
}
