package debrief

import (
	"cmp"
	"maps"
	"slices"
)

// Trends are a club's shares over the dates of its games.
type Trends struct {
	All      []Moment `json:"all"`
	Subjects []Series `json:"subjects"`
	Traits   []Series `json:"traits"`
	Species  []Series `json:"species"`
	Confused []Drift  `json:"confused"`
}

// Series is one topic over time.
type Series struct {
	Name    string   `json:"name"`
	Moments []Moment `json:"moments"`
}

// Moment is the share of all games of one date together.
type Moment struct {
	Date  string `json:"date"`
	Share Share  `json:"share"`
}

// Trend sets reports in the order of their dates. Dates on which a topic was
// not asked for are left out of its series.
func Trend(reports []Report) Trends {
	all := func(r *Report) []Topic { return []Topic{{Share: r.Share}} }
	t := Trends{
		All:      []Moment{},
		Subjects: series(reports, func(r *Report) []Topic { return r.Topics.Subjects }),
		Traits:   series(reports, func(r *Report) []Topic { return r.Topics.Traits }),
		Species:  series(reports, func(r *Report) []Topic { return r.Topics.Species }),
		Confused: drifts(reports),
	}
	for _, s := range series(reports, all) {
		t.All = s.Moments
	}
	return t
}

func series(reports []Report, topics func(*Report) []Topic) []Series {
	byName := map[string]map[string]sum{}
	for i := range reports {
		for _, t := range topics(&reports[i]) {
			if t.Share.Of == 0 {
				continue
			}
			if byName[t.Name] == nil {
				byName[t.Name] = map[string]sum{}
			}
			s := byName[t.Name][reports[i].Date]
			byName[t.Name][reports[i].Date] = sum{s.questions + t.Questions, s.right + t.Share.Right, s.of + t.Share.Of}
		}
	}
	out := []Series{}
	for name, dates := range byName {
		s := Series{Name: name}
		for _, date := range slices.Sorted(maps.Keys(dates)) {
			s.Moments = append(s.Moments, Moment{date, ShareOf(dates[date].right, dates[date].of)})
		}
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Series) int { return cmp.Compare(a.Name, b.Name) })
	return out
}
