package paper

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// FileName is the item's file: its number, and unless for a quiz also what it shows.
func (it Item) FileName(quiz bool) string {
	if quiz {
		return fmt.Sprintf("%03d.svg", it.Number)
	}
	words := strings.ReplaceAll(strings.ToLower(it.Species.Name+" "+it.Kind), " ", "-")
	return fmt.Sprintf("%03d-%s.svg", it.Number, words)
}

// WriteFolder writes each plate to a file of its own in a new or empty folder;
// for a quiz the names are numbers and key.csv tells them.
func WriteFolder(dir string, items []Item, quiz bool) error {
	if err := emptyFolder(dir); err != nil {
		return err
	}
	for _, it := range items {
		if err := os.WriteFile(filepath.Join(dir, it.FileName(quiz)), []byte(it.Plate.SVG+"\n"), 0o644); err != nil {
			return fmt.Errorf("a plate can't be written: %w", err)
		}
	}
	if !quiz {
		return nil
	}
	key, err := keySheet(items)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "key.csv"), key, 0o644)
}

// emptyFolder makes the folder. One with files in it is refused: plates of two
// runs would mix, and names left by the first could tell what the second hides.
func emptyFolder(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the folder for the plates can't be made: %w", err)
	}
	files, err := os.ReadDir(dir)
	if err == nil && len(files) > 0 {
		err = fmt.Errorf("the folder %s is not empty: name a new one, so that plates of two runs don't mix", dir)
	}
	return err
}

func keySheet(items []Item) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"number", "species", "vernacular", "kind"}}
	for _, it := range items {
		rows = append(rows, []string{strconv.Itoa(it.Number), it.Species.Name, it.Species.Vernacular, it.Kind})
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}
