// Package link estimates, for one phone, how its clock stands to the hub's and
// how long its frames take. The clock comes from RFC 5905's exchange as the hub
// sees it: the hub sends, the page on the phone stamps, the hub receives. How
// long the link takes comes from pings, which the browser answers by itself:
// no script of a page can keep them back to make its link look slow. It has no
// clock of its own: times are handed in, monotonic ones on both sides.
package link

import "time"

const (
	drift   = 50e-6            // by which a phone's clock may run fast or slow: common practice, no published source (RFC 5905 assumes 15e-6 for disciplined clocks)
	tooLong = 2 * time.Second  // a delay beyond which an exchange tells nothing
	window  = 30 * time.Second // of the longest trip; the one before counts too
	grain   = time.Millisecond // to which browsers blur a page's clock (MDN, performance.now)
	margin  = 4                // a link may soon take so much of a part longer than it lately did
)

// Link is what is known of a phone's link. The zero Link knows nothing yet.
// It is not safe for concurrent use.
type Link struct {
	offset time.Duration // phone's clock minus the hub's, by the best exchange
	spread time.Duration // half that exchange's delay: its error bound when it was made
	made   time.Duration
	known  bool

	since           time.Duration // the window's start
	longest, before time.Duration // trips, of this window and of the last
}

// Sample takes in an exchange: sent and received are the hub's times of its
// frame and of the answer, stamped the phone's time in between. The best
// exchange is the one with the least delay; an old one is worth less by the
// drift since, as in RFC 5905's clock filter.
func (l *Link) Sample(sent, stamped, received time.Duration) {
	delay := received - sent
	if delay < 0 || delay > tooLong {
		return
	}
	offset, spread := stamped-(sent+delay/2), delay/2
	bound := l.bound(received)
	// A clock that has stood still, as in a sleeping phone, contradicts what was known.
	jumped := (offset - l.offset).Abs() > spread+grain+bound
	if !l.known || spread+grain <= bound || jumped {
		l.offset, l.spread, l.made, l.known = offset, spread, received, true
	}
}

func (l *Link) bound(now time.Duration) time.Duration {
	return l.spread + grain + time.Duration(drift*float64(now-l.made))
}

// Trip takes in how long a ping and its answer took.
func (l *Link) Trip(took, now time.Duration) {
	if took < 0 || took > tooLong {
		return
	}
	if now-l.since > window {
		l.before, l.longest, l.since = l.longest, 0, now
	}
	l.longest = max(l.longest, took)
}

// Hub puts a time of the phone's clock on the hub's, and says by how much that
// may be off at a time of the hub. Before the first exchange ok is false.
func (l *Link) Hub(stamped, now time.Duration) (at, bound time.Duration, ok bool) {
	return stamped - l.offset, l.bound(now), l.known
}

// Longest is the longest that a frame's way is expected to take, by the trips of
// late, which are there and back.
func (l *Link) Longest() time.Duration {
	longest := max(l.longest, l.before)
	return longest + longest/margin
}
