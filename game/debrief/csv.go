package debrief

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
)

var columns = []string{"game", "date", "round", "kind", "question", "subject", "team", "option", "key", "right", "ms", "points"}

// WriteCSV writes the raw results by RFC 4180: a row for each team and
// question that count for each other. Rounds count from 1; right is 1 or 0;
// option is empty where none was given or the answer was spoken, ms where
// there was no answer.
func (r Report) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write(columns); err != nil {
		return fmt.Errorf("writing the results of game %s: %w", r.Code, err)
	}
	for i := range r.Questions {
		for t, a := range r.Questions[i].Answers {
			if a.Mark == Apart {
				continue
			}
			if err := out.Write(r.row(&r.Questions[i], r.Teams[t].Name, a)); err != nil {
				return fmt.Errorf("writing the results of game %s: %w", r.Code, err)
			}
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("writing the results of game %s: %w", r.Code, err)
	}
	return nil
}

func (r Report) row(it *Item, team string, a Answer) []string {
	right, _ := a.Mark.count()
	option, ms := "", ""
	if a.Option >= 0 {
		option = it.Options[a.Option]
	}
	if a.Ms >= 0 {
		ms = strconv.FormatInt(a.Ms, 10)
	}
	return []string{Cell(r.Code), Cell(r.Date), strconv.Itoa(it.Round + 1), Cell(string(it.Kind)), Cell(it.ID), Cell(it.Subject), Cell(team),
		Cell(option), Cell(it.Options[it.Key]), strconv.Itoa(right), ms, strconv.Itoa(a.Points)}
}

// Cell is a cell that a spreadsheet will not take for a formula. Numbers are
// written as they are: a penalty is to stay a number.
func Cell(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
