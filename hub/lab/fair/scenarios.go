package fair

import "time"

const ms = time.Millisecond

var (
	wired  = uniform(ms/4, ms*35/100)
	quiet  = uniform(2*ms, 10*ms)
	busy   = lognormal(15*ms, 2.5, 200*ms)
	shaken = uniform(0, 200*ms)
	mobile = spiked(lognormal(60*ms, 1.3, 150*ms), 0.05, uniform(150*ms, 800*ms))
)

// on is a common phone: its clock within 50 ppm and read to 0.1 ms.
func on(out, back Path) Phone {
	return Phone{Out: out, Back: back, Drift: [2]float64{-50, 50}, Tick: ms / 10}
}

func with(p Phone, change func(*Phone)) Phone { change(&p); return p }

// EqualDelays and Jitter are the two of which the tests demand most.
var (
	EqualDelays = Scenario{Name: "Equal delays", What: "20 ms each way, for every phone", Phones: []Phone{on(constant(20*ms), constant(20*ms))}}
	Jitter      = Scenario{Name: "Jitter to 200 ms", What: "every other phone 0–200 ms each way, the rest 2–10 ms", Phones: []Phone{on(quiet, quiet), on(shaken, shaken)}}
	Busy        = Scenario{Name: "Busy wi-fi", What: "lognormal, median 15 ms, tail to 200 ms, for every phone", Phones: []Phone{on(busy, busy)}}
	Cellular    = Scenario{Name: "Cellular with spikes", What: "every other phone about 60 ms, 1 frame in 20 takes 150–800 ms; the rest 2–10 ms", Phones: []Phone{on(quiet, quiet), on(mobile, mobile)}}
)

// Scenarios are the rooms of the table in docs/fairness.md.
func Scenarios() []Scenario {
	slow := with(on(quiet, quiet), func(p *Phone) { p.Drift = [2]float64{-50, -50} })
	fast := with(on(quiet, quiet), func(p *Phone) { p.Drift = [2]float64{50, 50} })
	deaf := func(p *Phone) { p.Deaf = true }
	return []Scenario{
		{Name: "Wired", What: "0.3 ms each way", Phones: []Phone{on(wired, wired)}},
		{Name: "Wired, coarse clocks", What: "the same, but the phones' clocks tick in whole ms", Phones: []Phone{with(on(wired, wired), func(p *Phone) { p.Tick = ms })}},
		EqualDelays,
		{Name: "Quiet wi-fi", What: "2–10 ms each way", Phones: []Phone{on(quiet, quiet)}},
		Busy,
		Jitter,
		{Name: "Jitter for all", What: "0–200 ms each way, for every phone", Phones: []Phone{on(shaken, shaken)}},
		Cellular,
		{Name: "Lopsided", What: "every other phone 10 ms out and 50 back, the rest 2–10 ms", Phones: []Phone{on(quiet, quiet), on(constant(10*ms), constant(50*ms))}},
		{Name: "Drift", What: "quiet wi-fi, clocks 50 ppm slow and fast", Phones: []Phone{slow, fast}},
		{Name: "Drift, an hour old", What: "the same, no exchange for an hour or more", Phones: []Phone{with(slow, deaf), with(fast, deaf)}, First: time.Hour},
		{Name: "Asleep", What: "quiet wi-fi, every other phone wakes shortly before every third question", Phones: []Phone{on(quiet, quiet), with(on(quiet, quiet), func(p *Phone) { p.Sleeps = true })}},
	}
}

// Cheats are pairs of a cheater and an honest twin; in the first of each room
// both are honest. The last lie is the cleverest: it goes no further than the
// hub lets it.
func Cheats() []Scenario {
	lies := []struct {
		name string
		lie  Lie
	}{
		{"none: both are honest", Lie{}},
		{"says that it was pressed 10 s earlier", Lie{Press: 10 * time.Second}},
		{"sets its clock 1 s ahead in the exchange", Lie{Stamp: time.Second}},
		{"keeps answers of the exchange back", Lie{Hold: Wait}},
		{"all three, claiming 10 s", Lie{Press: 9 * time.Second, Stamp: time.Second, Hold: Wait}},
		{"all three, claiming 200 ms", Lie{Press: 100 * ms, Stamp: 100 * ms, Hold: Wait}},
		{"the same, by a program of its own that keeps pings back too", Lie{Press: 100 * ms, Stamp: 100 * ms, Hold: Wait, Ping: Wait}},
	}
	var out []Scenario
	for _, room := range []struct {
		name string
		path Path
	}{{"Quiet wi-fi", quiet}, {"Busy wi-fi", busy}} {
		honest := on(room.path, room.path)
		for _, l := range lies {
			cheater := with(honest, func(p *Phone) { p.Lie = l.lie })
			out = append(out, Scenario{Name: l.name, What: room.name, Phones: []Phone{cheater, honest}})
		}
	}
	return out
}
