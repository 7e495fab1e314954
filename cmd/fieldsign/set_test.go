package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A set that was printed as JSON Lines and edited in any way is read again, by
// the commands that print questions and by the one that prints paper.
func TestASetFromAFile(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "set.jsonl")
	lines := strings.SplitAfter(printed(t, strings.Fields("questions --roster furbearers --count 12 --seed 9 --format jsonl")...).String(), "\n")
	lines[0], lines[3] = lines[3], lines[0]
	head := `{"format":"fieldsign.set.v1","name":"Spring evening","roster":"furbearers","seed":9,"rounds":[{"count":8},{"count":3}]}` + "\n"
	body := strings.Join(append(lines[:5:5], lines[6:12]...), "") // one is struck
	if err := os.WriteFile(file, []byte(head+body), 0o644); err != nil {
		t.Fatal(err)
	}
	set := setOf(t, "--set "+file)
	if len(set) != 11 {
		t.Fatalf("%d questions", len(set))
	}
	v := newVerifier(t)
	for _, q := range readLines(t, printed(t, "questions", "--set", file, "--format", "jsonl")) {
		if f := v.fault(q); f != "" {
			t.Errorf("%s: %s", q.Prompt, f)
		}
	}
	if second := setOf(t, "--round 2 --set "+file); len(second) != 3 || second[0].Prompt != set[8].Prompt {
		t.Errorf("the second round has %d questions", len(second))
	}
	text := strings.Join(onPaper(t, "--kind quiz --set "+file), " ")
	at := 0
	for i, q := range set {
		stem := fmt.Sprintf("%d %s", i+1, q.Prompt)
		found := strings.Index(text[at:], stem)
		if found < 0 {
			t.Fatalf("paper does not ask %q after the others", stem)
		}
		at += found
	}
	if !strings.Contains(text, "Spring evening, furbearers") {
		t.Error("paper does not name its set")
	}
	for args, says := range map[string]string{
		"--set nothing.jsonl":                 "can't be read",
		"--set " + file + " --count 3":        "--count has no part beside --set",
		"--set " + file + " --round 3":        "has 2 rounds",
		"--set " + file + " --round -1":       "counts from 1",
		"--round 1":                           "give both",
		"--set " + file + " --catalogue none": "none",
	} {
		for _, command := range []string{"questions", "paper --out " + filepath.Join(t.TempDir(), "a.pdf")} {
			err := run(context.Background(), strings.Fields(command+" "+args), &bytes.Buffer{})
			if err == nil || !strings.Contains(err.Error(), says) {
				t.Errorf("%s %s: %v, want something on %q", command, args, err, says)
			}
		}
	}
	spoilt := strings.Replace(head+body, `"furbearers"`, `"waterside"`, 1)
	if err := os.WriteFile(file, []byte(spoilt), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := run(context.Background(), []string{"questions", "--set", file}, &bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "question 1") {
		t.Errorf("questions about animals that are not in play: %v", err)
	}
}
