package course

import (
	"cmp"

	"emberbeat/timeline"
)

// Course is how one command goes. Times count from the start of the song's audio.
type Course struct {
	Command timeline.Time
	Hit     timeline.Time
	Spread  timeline.Time // half width of the lead's spread
	Rise    timeline.Time // from the hit to full height
	Hold    timeline.Time // at full height
	Fall    timeline.Time // until nothing of it is seen
	Assumed bool          // rise or fall is the family's: the article does not give it
}

// Rise is how long an effect rises whose article does not say (our judgement).
const Rise = 120 * timeline.Millisecond

// falls are how long an effect is still seen after its closing whose article does
// not say, by what the audience sees (all our judgement). Paper floats.
var falls = map[timeline.Outline]timeline.Time{
	timeline.ColumnOutline: 300 * timeline.Millisecond,
	timeline.JetOutline:    400 * timeline.Millisecond,
	timeline.FanOutline:    800 * timeline.Millisecond,
	timeline.StemOutline:   400 * timeline.Millisecond,
	timeline.BurstOutline:  400 * timeline.Millisecond,
	timeline.OwnOutline:    400 * timeline.Millisecond,
	timeline.CloudOutline:  20 * timeline.Second,
}

// Of gives the course of a command. What floats is in the air for as long as
// floats says. What is open for less than it takes to rise still rises to its
// full height: where that is wrong, more is shown than there is.
func Of(c *timeline.Command, floats timeline.Time) Course {
	a := c.Article
	x := Course{Command: c.At, Hit: c.Hit, Spread: a.Spread, Rise: cmp.Or(a.Rise, Rise), Fall: a.Fall, Assumed: a.Rise == 0}
	x.Hold = max(0, c.Open-x.Rise)
	if x.Fall == 0 {
		var own bool
		x.Fall, own = fallOf(a, floats)
		x.Assumed = x.Assumed || !own
	}
	return x
}

// fallOf gives how long an article is seen after its closing, and whether the
// article says so.
func fallOf(a *timeline.Article, floats timeline.Time) (fall timeline.Time, own bool) {
	class := a.Family.Class()
	switch {
	case a.Hang > 0 && (class == timeline.Paper || class == timeline.Shot || class == timeline.Cloud):
		return a.Hang, true
	case class == timeline.Paper:
		return max(floats, Rise), false
	}
	return cmp.Or(falls[a.Family.Outline()], falls[timeline.FanOutline]), false
}

// Full is when it stands at its full height, Closed when it begins to fall, Gone
// when nothing of it is seen any more.
func (x *Course) Full() timeline.Time { return x.Hit + x.Rise }

// Closed is when it begins to fall.
func (x *Course) Closed() timeline.Time { return x.Full() + x.Hold }

// Gone is when nothing of it is seen any more.
func (x *Course) Gone() timeline.Time { return x.Closed() + x.Fall }

// Height gives how much of the full height stands at a time, 0 to 1: nothing
// before the hit, and evenly up and down after it.
func (x *Course) Height(at timeline.Time) float64 {
	switch {
	case at < x.Hit || at >= x.Gone():
		return 0
	case at < x.Full():
		return float64(at-x.Hit) / float64(x.Rise)
	case at < x.Closed():
		return 1
	}
	return float64(x.Gone()-at) / float64(x.Fall)
}

// Fallen gives how much of its fall is over, 0 to 1.
func (x *Course) Fallen(at timeline.Time) float64 {
	switch {
	case at <= x.Closed():
		return 0
	case at >= x.Gone():
		return 1
	}
	return float64(at-x.Closed()) / float64(x.Fall)
}

// Lead gives how much of the lead is over at a time, 0 to 1, and from which part
// of it on the spread may bring the hit; ok is false outside of the lead.
func (x *Course) Lead(at timeline.Time) (over, spread float64, ok bool) {
	lead := x.Hit - x.Command
	if lead <= 0 || at < x.Command || at >= x.Hit {
		return 0, 0, false
	}
	return float64(at-x.Command) / float64(lead), max(0, 1-float64(x.Spread)/float64(lead)), true
}
