// Package debrief says what a finished or unfinished game tells about its
// questions, traits and teams. It is pure: it reads a game's log, and what the
// caller knows about each question (Facts). It must not know the catalogue,
// the hub, or how a report is shown.
//
// # What counts
//
// A removed team counts nowhere, and its name appears nowhere.
//
// A question that was skipped is void: it is listed and counts nowhere. So is
// one of an open round whose points the host took back.
//
// In an open round a question counts once it is closed, for every team that
// had joined before it was opened; no answer is not a right answer. A team
// that joins while it is open counts only if it answers.
//
// In a station round a question counts once the round is marked, for every
// team that had its turn at the station, with the key as the host has corrected
// it last; one that the host took out is void.
//
// In a buzz round only verdicts count: who never held the buzz had no chance
// and is not wrong. A verdict stands from the moment it is given, unless it is
// taken back. Such questions stay out of the test statistics (KR-20, KR-21,
// correlations, D), which need every team's mark on every question.
//
// The test statistics rest on the teams that counted for all closed questions
// of the open and station rounds; whoever joined late is left out of them, not of the shares.
package debrief

import "fieldsign/game"

// Report is the debrief of one game. In JSON an undefined number is null.
type Report struct {
	Code       string   `json:"code"`
	Title      string   `json:"title"`
	Language   string   `json:"language,omitempty"` // of the questions, where it is not English
	Date       string   `json:"date"`               // YYYY-MM-DD, as the game's own beginning says
	Ended      bool     `json:"ended"`
	Share      Share    `json:"share"` // of all that counts
	Teams      []Team   `json:"teams"`
	Questions  []Item   `json:"questions"` // in the order asked: the timeline
	Test       Test     `json:"test"`
	Topics     Topics   `json:"topics"`
	Confusions []Matrix `json:"confusions"`
	Advice     Advice   `json:"advice"`
}

// Team is a team's own part of the report.
type Team struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Score  int    `json:"score"`
	Share  Share  `json:"share"`
	Topics Topics `json:"topics"`
}

// Of makes the report of a log. Facts may be nil or have gaps: a question that
// is not in them is known by its options' texts.
func Of(log []game.Event, facts Facts) Report {
	h := hearing{facts: facts}
	for _, e := range log {
		h.hear(e)
	}
	r := Report{Code: h.state.Code, Title: h.state.Plan.Title, Language: h.state.Plan.Language, Date: dateOf(h.state.Began), Ended: h.state.Phase == game.Ended}
	r.Teams, r.Questions = h.settle()
	for i := range r.Questions {
		r.Questions[i].tally()
	}
	r.Test = examine(r.Questions, len(r.Teams))
	all := func(it *Item) (right, of int) { return it.Share.Right, it.Share.Of }
	r.Share, r.Topics = byTopic(r.Questions, all)
	for t := range r.Teams {
		own := func(it *Item) (right, of int) { return it.Answers[t].Mark.count() }
		r.Teams[t].Share, r.Teams[t].Topics = byTopic(r.Questions, own)
	}
	r.Confusions = confusions(r.Questions)
	r.Advice = advise(&r)
	return r
}

// dateOf is the date of a time in RFC 3339.
func dateOf(began string) string {
	const day = len("2006-01-02")
	return began[:min(day, len(began))]
}
