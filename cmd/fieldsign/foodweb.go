package main

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
)

const foodwebHelp = `fieldsign foodweb prints who eats whom in a roster: what eats, what is eaten, and
what decides it (named, group, rule or diet), or draws it.

  fieldsign foodweb --roster woodland-edge                       # CSV
  fieldsign foodweb --roster woodland-edge --format svg > web.svg  # for the board, 16:9
`

func runFoodweb(_ context.Context, args []string, out io.Writer) error {
	f := flags("foodweb", foodwebHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	format := f.String("format", "csv", "csv or svg")
	language := f.String("language", "en", languageHelp)
	if err := parse(f, args); err != nil {
		return err
	}
	cat, roster, err := openRoster(*dir, *rosterName)
	if err != nil {
		return err
	}
	if cat, err = spoken(cat, *language); err != nil {
		return err
	}
	switch *format {
	case "csv":
		return writeWeb(out, cat, roster)
	case "svg":
		p, ok := questions.WebOf(cat, roster).Draw(280, 157.5)
		if !ok {
			return fmt.Errorf("the food web of roster %s can't be drawn: it takes 2 to %d animals of which one eats another", roster.Name, foodweb.MostDrawn)
		}
		_, err := io.WriteString(out, p.SVG+"\n")
		return err
	}
	return errors.New("--format is csv or svg")
}

// writeWeb writes an arrow a line.
func writeWeb(out io.Writer, cat *catalogue.Catalogue, roster catalogue.Roster) error {
	w := csv.NewWriter(out)
	lines := [][]string{{"eater", "food", "by"}}
	for _, e := range foodweb.New(cat).Edges(cat.InPlay(roster, catalogue.FoodWeb)) {
		lines = append(lines, []string{e.Eater, e.Food, string(e.By)})
	}
	return w.WriteAll(lines)
}
