package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/cmd/internal/marked"
)

const docs = "../../docs"

// The page shows what the command prints now, and the plot beside it.
func TestThePageIsUpToDate(t *testing.T) {
	page, err := os.ReadFile(filepath.Join(docs, pageName))
	if err != nil {
		t.Fatal(err)
	}
	const how = "run: go run ./cmd/fairsim -write docs"
	if fresh, err := marked.Fill(page, tables(1), begin, end); err != nil || !bytes.Equal(page, fresh) {
		t.Errorf("docs/%s is not what the simulator gives now (%v); %s", pageName, err, how)
	}
	drawn, err := os.ReadFile(filepath.Join(docs, plotName))
	if err != nil || !bytes.Equal(drawn, plot(1)) {
		t.Errorf("docs/%s is not what the simulator draws now (%v); %s", plotName, err, how)
	}
}

func TestThePlotCanBeReadAloud(t *testing.T) {
	svg, err := os.ReadFile(filepath.Join(docs, plotName))
	if err != nil {
		t.Fatal(err)
	}
	decoder := xml.NewDecoder(bytes.NewReader(svg))
	for {
		if _, err := decoder.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("not XML: %v", err)
		}
	}
	for _, want := range []string{`role="img"`, `aria-labelledby="title desc"`, `<title id="title">`, `<desc id="desc">Busy wi-fi: for gaps under 20 ms `} {
		if !strings.Contains(string(svg), want) {
			t.Errorf("the plot lacks %s", want)
		}
	}
}

func TestInsertNeedsItsMarks(t *testing.T) {
	for _, page := range []string{"", begin, end, end + begin} {
		if _, err := marked.Fill([]byte(page), nil, begin, end); err == nil {
			t.Errorf("%q was taken", page)
		}
	}
	if got, err := marked.Fill([]byte("a\n"+begin+"old\n"+end+"b\n"), []byte("new\n"), begin, end); err != nil || string(got) != "a\n"+begin+"new\n"+end+"b\n" {
		t.Errorf("%q, %v", got, err)
	}
}

func TestWritesBesideThePage(t *testing.T) {
	folder := t.TempDir()
	if err := write(folder, nil, nil); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("without a page: %v", err)
	}
	name := filepath.Join(folder, pageName)
	if err := os.WriteFile(name, []byte("no marks"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := write(folder, nil, nil); err == nil || !strings.Contains(err.Error(), name) {
		t.Errorf("without marks: %v", err)
	}
}
