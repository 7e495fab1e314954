package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// heardAndFelt notes the pitches that a page plays, and how long it shakes.
const heardAndFelt = `(() => {
	window.heard = []; window.felt = [];
	const [start, shake] = [OscillatorNode.prototype.start, Navigator.prototype.vibrate];
	OscillatorNode.prototype.start = function (...at) { window.heard.push(this.frequency.value); return start.apply(this, at); };
	Navigator.prototype.vibrate = function (ms) { window.felt.push(ms); return shake.call(this, ms); };
	return true;
})()`

// enter presses the key of a control as a person would: a browser makes no sound
// and shakes no phone before.
func (p *page) enter(selector string) {
	p.Helper()
	p.wait("a control "+selector, fmt.Sprintf("((e) => e && e.getAttribute('aria-disabled') !== 'true' && (e.focus(), document.activeElement === e))(document.querySelector(%q))", selector))
	if err := chromedp.Do(p.ctx, chromedp.KeyEvent(kb.Enter)); err != nil {
		p.Fatal(err)
	}
}

// The board is silent until its sound is switched on; then a question and a buzz
// have sounds of their own. The phone that gets the buzz shakes, and no other.
func TestABuzzIsHeardAndFelt(t *testing.T) {
	t.Parallel()
	need(t, headless)
	e := ofAllKinds(t, map[string]any{"drawings": "none", "count": 1, "seconds": 8}, map[string]any{"kind": "buzz", "drawings": "none", "count": 1})
	defer e.Close()
	b := newBrowser(t, fmt.Sprintf("http://localhost:%d", e.hub.port))
	board := b.open("board", "/board?game="+e.hub.code, 1280, 720)
	phones := []*page{b.open("phone", "/team?game="+e.hub.code, phoneWidth, phoneHeight), b.open("other", "/team?game="+e.hub.code, phoneWidth, phoneHeight)}
	for i, p := range phones {
		p.set("name", []string{"Pond Herons", "Moss Shrews"}[i])
		p.enter("button.main")
		p.wait("that it is in", says("is on the list"))
	}
	for _, p := range append(phones, board) {
		read[bool](p, heardAndFelt)
	}
	e.next()
	board.wait("the first question", says("Question 1 of 1"))
	if n := read[int](board, "heard.length"); n > 0 {
		t.Errorf("%d sounds before they were switched on", n)
	}
	board.enter("button.sound")
	board.wait("that the host hears it", "heard.includes(880)")
	board.wait("the last five seconds", "heard.filter((hz) => hz === 1200).length >= 4")
	board.wait("the reveal", "!!document.querySelector('.tally')")
	e.next()
	board.wait("a question's sound", "heard.includes(220)")
	phones[0].enter("button.buzz")
	board.wait("the buzz's sound", "heard.filter((hz) => hz === 330).length === 2")
	phones[0].wait("that it is felt", "felt.length === 1 && felt[0] > 0")
	phones[1].wait("who has it", says("Answering: Pond Herons"))
	if n := read[int](phones[1], "felt.length"); n > 0 {
		t.Errorf("the other phone shook %d times", n)
	}
}
