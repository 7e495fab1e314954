package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"
)

const photosHelp = `fieldsign photos adds all photos of a folder to a running hub. What each shows is
guessed from its file's name: an animal, and skull, front print, hind print, track,
scat, pelt, antlers or horns, such as red-fox_skull_2.jpg, "river otter hind print.png"
or beaver-pelt.jpg.

  FIELDSIGN_HOST_KEY=... fieldsign photos --hub http://localhost:7600 --credit "own photo" pictures
  FIELDSIGN_HOST_KEY=... fieldsign photos --hub http://localhost:7600 --dry-run pictures   # only say what they are taken for

A photo whose name doesn't say enough is left out and named; rename it and run the
command again, or add it in the host's console. All that a camera writes into a
file, the place above all, is removed by the hub.
`

// imageEndings are the files that a hub takes.
var imageEndings = []string{".jpg", ".jpeg", ".png", ".webp"}

// guess is what the hub makes of a file's name.
type guess struct{ File, Species, Subject string }

func (g guess) clear() bool { return g.Species != "" && g.Subject != "" }

func runPhotos(ctx context.Context, args []string, out io.Writer) error {
	var r remote
	f := flags("photos", photosHelp, out)
	r.flags(f)
	credit := f.String("credit", "own photo", "who took them; no pupil's name")
	dry := f.Bool("dry-run", false, "add nothing, only say what the photos are taken for")
	if err := parseWithEnvironment(f, args, whereOnly); err != nil {
		return err
	}
	switch {
	case f.NArg() != 1:
		return errors.New("photos of which folder? Give one: fieldsign photos --hub http://localhost:7600 pictures")
	case r.hub == "":
		return errors.New("which hub? Give --hub and its address, such as http://localhost:7600")
	}
	files, err := imagesIn(f.Arg(0))
	if err != nil {
		return err
	}
	guesses, err := r.guesses(ctx, files)
	if err != nil {
		return err
	}
	return r.addPhotos(ctx, out, f.Arg(0), guesses, *credit, *dry)
}

func imagesIn(folder string) (files []string, err error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("the folder can't be read: %w", err)
	}
	for _, e := range entries {
		if !e.IsDir() && slices.Contains(imageEndings, strings.ToLower(filepath.Ext(e.Name()))) {
			files = append(files, e.Name())
		}
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("there is no photo in %s: its files end with %s", folder, strings.Join(imageEndings, ", "))
	}
	return files, nil
}

func (r remote) guesses(ctx context.Context, files []string) (list []guess, err error) {
	body, err := json.Marshal(map[string]any{"files": files})
	if err != nil {
		return nil, err
	}
	err = r.send(ctx, "POST", "/photos/names", bytes.NewReader(body), func(answer io.Reader) error {
		return json.NewDecoder(answer).Decode(&list)
	})
	return list, err
}

// addPhotos goes on after a photo that the hub refuses, and fails at the end.
func (r remote) addPhotos(ctx context.Context, out io.Writer, folder string, guesses []guess, credit string, dry bool) error {
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	left := 0
	for _, g := range guesses {
		said := "added"
		switch {
		case !g.clear():
			said = "left out: its name does not say which animal and what of it"
		case dry:
			said = "would be added"
		default:
			if err := r.addPhoto(ctx, filepath.Join(folder, g.File), g, credit); err != nil {
				said = "left out: " + err.Error()
			}
		}
		if strings.HasPrefix(said, "left out") {
			left++
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", g.File, cmp.Or(g.Species, "?"), cmp.Or(g.Subject, "?"), said)
	}
	table.Flush()
	if left > 0 {
		return fmt.Errorf("%d of %d photos were left out: rename them, such as red-fox_skull.jpg, or add them in the host's console", left, len(guesses))
	}
	return nil
}

func (r remote) addPhoto(ctx context.Context, file string, g guess, credit string) error {
	image, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	said := url.Values{"species": {g.Species}, "subject": {g.Subject}, "credit": {credit}}
	return r.send(ctx, "POST", "/photos?"+said.Encode(), bytes.NewReader(image), nothing)
}
