package hub_test

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"io"
	"net/http"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// photoAnswer is any answer of the photos' routes.
type photoAnswer struct {
	status     int
	ID         string
	Code       string
	Message    string
	Vernacular string
	Photos     []struct{ ID, Species, Vernacular, Subject, Credit string }
	Species    json.RawMessage // of a list: names; of a photo: its species
}

func (p *place) photos(method, path, key string, body io.Reader) photoAnswer {
	p.Helper()
	r, err := http.NewRequestWithContext(p.ctx, method, p.url+path, body)
	if err != nil {
		p.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+key)
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		p.Fatal(err)
	}
	defer answer.Body.Close()
	got := photoAnswer{status: answer.StatusCode}
	if answer.StatusCode != http.StatusNoContent {
		if err := json.NewDecoder(answer.Body).Decode(&got); err != nil {
			p.Fatalf("%s %s: %s: %v", method, path, answer.Status, err)
		}
	}
	return got
}

// upload sends a file as a photo of an animal's skull.
func (p *place) upload(species string, file []byte) photoAnswer {
	p.Helper()
	return p.uploadOf(species, "skull", file)
}

func (p *place) uploadOf(species, subject string, file []byte) photoAnswer {
	p.Helper()
	said := url.Values{"species": {species}, "subject": {subject}, "credit": {"Own photo of " + species}}
	return p.photos("POST", "/photos?"+said.Encode(), hostKey, bytes.NewReader(file))
}

func snapshot(t *testing.T) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 80, 60))
	for i := range m.Pix {
		m.Pix[i] = uint8(i)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPhotosComeAndGo(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	first, second := p.upload("Red Fox", snapshot(t)), p.upload("Castor canadensis", snapshot(t))
	if first.status != http.StatusCreated || second.status != http.StatusCreated || len(first.ID) != 32 || first.ID == second.ID {
		t.Fatalf("uploads: %+v, %+v", first, second)
	}
	p.stop()
	p = open(t, file) // they outlast the hub
	list := p.photos("GET", "/photos", hostKey, nil)
	if len(list.Photos) != 2 || list.Photos[0].Vernacular != "American beaver" || list.Photos[1].Species != "Vulpes vulpes" || list.Photos[1].Credit != "Own photo of Red Fox" {
		t.Fatalf("list: %+v", list.Photos)
	}
	var names []struct{ Name, Vernacular string }
	if err := json.Unmarshal(list.Species, &names); err != nil || len(names) != len(catalogue.Builtin().Species) || names[0].Vernacular == "" {
		t.Errorf("species: %d, error %v", len(names), err)
	}
	if got := p.photos("DELETE", "/photos/"+first.ID, hostKey, nil); got.status != http.StatusNoContent {
		t.Errorf("delete: %+v", got)
	}
	if got := p.photos("DELETE", "/photos/"+first.ID, hostKey, nil); got.status != http.StatusNotFound || got.Code != "no_photo" {
		t.Errorf("delete again: %+v", got)
	}
	if list := p.photos("GET", "/photos", hostKey, nil); len(list.Photos) != 1 || list.Photos[0].ID != second.ID {
		t.Errorf("after the delete: %+v", list.Photos)
	}
}

func TestPhotosAtOnce(t *testing.T) {
	t.Parallel()
	p := begin(t)
	file := snapshot(t)
	var uploads sync.WaitGroup
	for range 8 {
		uploads.Go(func() {
			if got := p.upload("red fox", file); got.status != http.StatusCreated {
				t.Errorf("upload: %+v", got)
			}
		})
	}
	uploads.Wait()
	if list := p.photos("GET", "/photos", hostKey, nil); len(list.Photos) != 8 {
		t.Errorf("%d photos are kept", len(list.Photos))
	}
}

func TestPhotosNeedTheHostKey(t *testing.T) {
	t.Parallel()
	p := begin(t)
	kept := p.upload("red fox", snapshot(t))
	for _, key := range []string{"", "guess", hostKey + "x"} {
		for _, request := range [][2]string{{"POST", "/photos?species=red+fox&subject=skull&credit=me"}, {"GET", "/photos"}, {"DELETE", "/photos/" + kept.ID}} {
			if got := p.photos(request[0], request[1], key, bytes.NewReader(snapshot(t))); got.status != http.StatusForbidden || got.Code != "wrong_key" {
				t.Errorf("%s %s with key %q: %+v", request[0], request[1], key, got)
			}
		}
	}
	if list := p.photos("GET", "/photos", hostKey, nil); len(list.Photos) != 1 {
		t.Errorf("after all that: %+v", list.Photos)
	}
	if status, _ := p.get("/photos/" + kept.ID); status != http.StatusMethodNotAllowed {
		t.Errorf("a photo by its own id got %d", status)
	}
}

func TestHostilePhotos(t *testing.T) {
	t.Parallel()
	p := begin(t)
	whole := snapshot(t)
	var moving bytes.Buffer
	if err := gif.Encode(&moving, image.NewPaletted(image.Rect(0, 0, 2, 2), color.Palette{color.Black}), nil); err != nil {
		t.Fatal(err)
	}
	bomb := "\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR\x00\x00\xea\x60\x00\x00\xea\x60\x08\x06\x00\x00\x00\xe7\x18\x9b\x64"
	for what, c := range map[string]struct {
		file   []byte
		status int
	}{
		"too many bytes": {append(bytes.Clone(whole), make([]byte, 8<<20)...), http.StatusRequestEntityTooLarge},
		"nothing":        {nil, http.StatusUnsupportedMediaType},
		"a GIF":          {moving.Bytes(), http.StatusUnsupportedMediaType},
		"an SVG":         {[]byte("<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"), http.StatusUnsupportedMediaType},
		"a page":         {[]byte("<!doctype html><script>alert(1)</script>"), http.StatusUnsupportedMediaType},
		"half a photo":   {whole[:len(whole)/2], http.StatusUnprocessableEntity},
		"a bomb":         {[]byte(bomb), http.StatusUnprocessableEntity},
	} {
		if got := p.upload("red fox", c.file); got.status != c.status || got.Code == "" || got.Message == "" {
			t.Errorf("%s: %+v, want %d", what, got, c.status)
		}
	}
	for what, said := range map[string]url.Values{
		"no species":      {"subject": {"skull"}, "credit": {"me"}},
		"unknown species": {"species": {"<b>Snark</b>" + strings.Repeat("k", 5000)}, "subject": {"skull"}, "credit": {"me"}},
		"no subject":      {"species": {"red fox"}, "credit": {"me"}},
		"unknown subject": {"species": {"red fox"}, "subject": {"nest"}, "credit": {"me"}},
		"no such print":   {"species": {"mallard"}, "subject": {"hind print"}, "credit": {"me"}},
		"no such skull":   {"species": {"mallard"}, "subject": {"skull"}, "credit": {"me"}},
		"no credit":       {"species": {"red fox"}, "subject": {"skull"}, "credit": {"  "}},
		"a long credit":   {"species": {"red fox"}, "subject": {"skull"}, "credit": {strings.Repeat("x", 81)}},
		"a turned credit": {"species": {"red fox"}, "subject": {"skull"}, "credit": {"me\u202eem"}},
		"a broken credit": {"species": {"red fox"}, "subject": {"skull"}, "credit": {"me\xff"}},
	} {
		got := p.photos("POST", "/photos?"+said.Encode(), hostKey, bytes.NewReader(whole))
		if got.status != http.StatusUnprocessableEntity || got.Code != "bad_photo" || len(got.Message) > 300 {
			t.Errorf("%s: %+v", what, got)
		}
	}
	if list := p.photos("GET", "/photos", hostKey, nil); len(list.Photos) != 0 {
		t.Errorf("kept: %+v", list.Photos)
	}
}

// toPlate has the host go on to a question that shows a plate without a mark.
func toPlate(host *client) bot.Frame {
	host.p.Helper()
	host.act("plan", "plan", plan(round("open", 40)))
	host.act("next")
	f := host.phase("asking")
	for !strings.HasSuffix(f.Question.Prompt, " is this?") { // a photo does not stand for a skull seen from above
		host.act("skip")
		host.act("next")
		f = host.phase("asking")
	}
	return f
}

// A photo stands in for the drawing at the plate's own address, says nothing of
// the animal before the reveal, and gives way to the drawing once deleted.
func TestAPhotoInPlay(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	f := toPlate(host)
	key := f.Question.Options[f.Host.Key]
	if !strings.EqualFold(key, "red fox") && p.upload("red fox", snapshot(t)).status == http.StatusCreated {
		if status, svg := p.get(f.Question.Plate); status != http.StatusOK || !strings.HasPrefix(svg, "<svg") {
			t.Errorf("with a photo of another animal the plate is %d %.40q", status, svg)
		}
	}
	kept := p.upload(key, snapshot(t))
	host.act("pause")
	shown := a.until("the pause", func(g bot.Frame) bool { return g.Paused })
	var q struct {
		Question struct{ Plate, PlateAlt, Credit string }
	}
	if err := json.Unmarshal(shown.Raw, &q); err != nil {
		t.Fatal(err)
	}
	if q.Question.Plate != f.Question.Plate || q.Question.PlateAlt != "Photograph of a skull" || q.Question.Credit != "" {
		t.Errorf("before the reveal: %+v", q.Question)
	}
	told := tellsNothing(p, q.Question.Plate)
	before, _, _ := strings.Cut(string(shown.Raw), `"options"`)
	if everything := strings.ReplaceAll(strings.ToLower(told+before), p.code, ""); strings.Contains(everything, strings.ToLower(key)) || strings.Contains(everything, kept.ID) {
		t.Errorf("the photo's question names the %s or the photo's own id", key)
	}
	a.noLeak("phone")
	host.act("resume")
	host.act("close")
	if g := a.phase("revealed"); !strings.Contains(string(g.Raw), `"credit":"Own photo of `+key+`"`) {
		t.Errorf("revealed: %s", g.Raw)
	}
	p.photos("DELETE", "/photos/"+kept.ID, hostKey, nil)
	if status, svg := p.get(q.Question.Plate); status != http.StatusOK || !strings.HasPrefix(svg, "<svg") {
		t.Errorf("after the delete the plate is %d %.40q", status, svg)
	}
}

// tellsNothing returns the address and headers of a photo, in one text.
func tellsNothing(p *place, path string) string {
	p.Helper()
	r, err := http.Get(p.url + path)
	if err != nil {
		p.Fatal(err)
	}
	defer r.Body.Close()
	if m, err := jpeg.Decode(r.Body); err != nil || m.Bounds().Dx() != 80 || r.Header.Get("Content-Type") != "image/jpeg" {
		p.Errorf("the plate is no photo: %v, %v", err, r.Header)
	}
	for _, name := range []string{"Etag", "Last-Modified", "Content-Disposition"} {
		if r.Header.Get(name) != "" {
			p.Errorf("%s: %s", name, r.Header.Get(name))
		}
	}
	var head bytes.Buffer
	r.Header.Write(&head)
	return path + head.String()
}

// bothPrints tells whether front and hind print of an animal can be asked about.
func bothPrints(vernacular string) bool {
	c := catalogue.Builtin()
	at := slices.IndexFunc(c.Species, func(s catalogue.Species) bool { return s.Vernacular == vernacular })
	_, front := questions.Draw(c, questions.PlateRef{Species: c.Species[at].Name, View: "front print"})
	_, hind := questions.Draw(c, questions.PlateRef{Species: c.Species[at].Name, View: "hind print"})
	return front && hind
}

// A photo of one print stands in for that print alone; one of a track with both
// prints for either, unless there is a photo of just that print.
func TestPhotosOfPrints(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		subjects  []string
		prompt    string
		wantPhoto bool
		alt       string
	}{
		{[]string{"front print"}, "Whose front print", true, "Photograph of a print"},
		{[]string{"hind print"}, "Whose front print", false, ""},
		{[]string{"front print"}, "Whose hind print", false, ""},
		{[]string{"track"}, "Whose hind print", true, "Photograph of a track"},
		{[]string{"track", "hind print"}, "Whose hind print", true, "Photograph of a print"},
	} {
		p := begin(t)
		host, a := p.host(), p.join("Wrens")
		told, _ := toKind(host, a, "track", c.prompt)
		for !strings.HasPrefix(told.Question.Prompt, c.prompt) || !bothPrints(told.Question.Options[told.Host.Key]) {
			host.act("skip")
			host.act("next")
			told = host.phase("asking")
		}
		for _, subject := range c.subjects {
			if got := p.uploadOf(told.Question.Options[told.Host.Key], subject, snapshot(t)); got.status != http.StatusCreated {
				t.Fatalf("upload: %+v", got)
			}
		}
		host.act("pause")
		shown := a.until("the pause", func(g bot.Frame) bool { return g.Paused })
		_, body := p.get(shown.Question.Plate)
		if photo := !strings.HasPrefix(body, "<svg"); photo != c.wantPhoto || photo && !strings.Contains(string(shown.Raw), `"`+c.alt+`"`) {
			t.Errorf("photos of %v, asked %q: photo %v, %s", c.subjects, c.prompt, photo, shown.Raw)
		}
	}
}

// A pelt has no drawing: a round asks about those that there are photos of, and an
// outline stands in once a photo is gone.
func TestPhotosOfPelts(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	pelts := map[string]any{"name": "Pelts", "kind": "open", "subjects": []string{"specimen"}, "count": 2, "seconds": 60, "points": 100}
	if r := host.do(map[string]any{"type": "do", "action": "plan", "plan": plan(pelts)}); !strings.Contains(r.Message, "add photos of pelts") {
		t.Errorf("without a photo: %+v", r)
	}
	if got := p.uploadOf("Mallard", "pelt", snapshot(t)); got.Code != "bad_photo" {
		t.Errorf("the pelt of a bird: %+v", got)
	}
	var kept []photoAnswer
	for _, animal := range []string{"American beaver", "red fox"} {
		kept = append(kept, p.uploadOf(animal, "pelt", snapshot(t)))
	}
	if got := p.uploadOf("moose", "head gear", snapshot(t)); got.status != http.StatusCreated {
		t.Fatalf("antlers: %+v", got)
	}
	host.act("plan", "plan", plan(pelts))
	host.act("next")
	first := a.phase("asking")
	if first.Question.Prompt != "Whose pelt is this?" || !strings.Contains(string(first.Raw), `"Photograph of a pelt"`) {
		t.Errorf("asked: %s", first.Raw)
	}
	tellsNothing(p, first.Question.Plate)
	host.act("close")
	a.phase("revealed")
	host.act("next")
	second := a.phase("asking")
	for _, photo := range kept {
		p.photos("DELETE", "/photos/"+photo.ID, hostKey, nil)
	}
	if _, body := p.get(second.Question.Plate); !strings.HasPrefix(body, "<svg") || !strings.Contains(body, "look at the specimen") {
		t.Errorf("without its photo the plate is %.60q", body)
	}
}
