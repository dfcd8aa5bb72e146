package grid

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Kind is a way to correct a grid.
type Kind string

// The kinds.
const (
	Double   Kind = "double"    // twice as many beats
	Half     Kind = "half"      // every other beat
	ThreeTwo Kind = "three-two" // three beats where two were
	TwoThree Kind = "two-three" // two beats where three were
	Shift    Kind = "shift"     // all beats later by Beats, earlier where that is negative
	BarOne   Kind = "bar-one"   // the beat next to At is the first of bar 1
	Tempo    Kind = "tempo"     // BPM, of the whole song, or where Here is, of the stretch that holds At
	Tap      Kind = "tap"       // the beats of Pulse
	Line     Kind = "line"      // the line of Bar stands at At; Reach says what goes with it
	Split    Kind = "split"     // from the bar next to At on the tempo is one of its own
	Metre    Kind = "metre"     // bars have Metre, where Here is from the bar next to At on
	Whole    Kind = "map"       // Beats are those of Map, such as the ear hears them
)

// Reach says what goes with a bar line that is moved.
type Reach string

// The reaches.
const (
	All   Reach = "all"   // the whole grid; so does none that is named
	After Reach = "after" // it and all bars after it: the bar before it takes the difference
	Only  Reach = "only"  // nothing: the bars on either side of it take the difference
)

// Reaches lists the reaches.
func Reaches() []Reach { return []Reach{All, After, Only} }

// MilliBPM is a tempo in thousandths of a beat a minute, 0 = not given. A beat is one Den-th of the metre.
type MilliBPM int64

// Slowest and fastest tempo that can be typed, as beat maps take them.
const (
	Slowest MilliBPM = 10_000
	Fastest MilliBPM = 1_000_000
)

// ParseBPM reads a tempo: 124 or 123.98, three decimals at most.
func ParseBPM(text string) (MilliBPM, error) {
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "bpm"))
	r, ok := new(big.Rat).SetString(text)
	if !ok || strings.ContainsAny(text, "/eE_xXpPbBoO") {
		return 0, fmt.Errorf("tempo %q cannot be read: write beats a minute such as 124 or 123.98", text)
	}
	r.Mul(r, big.NewRat(1000, 1))
	if !r.IsInt() || !r.Num().IsInt64() || MilliBPM(r.Num().Int64()) < Slowest || MilliBPM(r.Num().Int64()) > Fastest {
		return 0, fmt.Errorf("tempo %q is out of range: write 10 to 1000 beats a minute, with three decimals at most", text)
	}
	return MilliBPM(r.Num().Int64()), nil
}

// String writes the tempo as ParseBPM reads it, nothing for none.
func (t MilliBPM) String() string {
	if t == 0 {
		return ""
	}
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%d.%03d", t/1000, t%1000), "0"), ".")
}

// lasting gives how long so many beats last.
func (t MilliBPM) lasting(n int) timeline.Time { return share(timeline.Minute*1000, int64(t), n) }

// share gives n times an over-th of a time, to the nearest unit.
func share(t timeline.Time, over int64, n int) timeline.Time {
	x := big.NewRat(int64(t), over)
	return round(x.Mul(x, new(big.Rat).SetInt64(int64(n))))
}

// TempoOf gives the tempo at a time, to a thousandth of a beat a minute.
func TempoOf(m *timeline.BeatMap, at timeline.Time) MilliBPM {
	return MilliBPM(m.BPM(at)*1000 + 0.5)
}

// Correction is one thing that is put right in a grid. Which of the fields count says its kind.
type Correction struct {
	Kind  Kind
	Beats timeline.Rat
	At    timeline.Time
	Here  bool
	BPM   MilliBPM
	Pulse Pulse
	Bar   int
	Reach Reach
	Metre timeline.Metre
	Map   *timeline.BeatMap
	Name  string // of Map, as it is said
	Cues  Going
}

// Going is what becomes of what stands on beats when they are corrected.
type Going string

// What can become of it.
const (
	AsUsual   Going = "usual" // as the kind of the correction has it; so does none that is named
	WithBeats Going = "beats" // it goes with its beat, and keeps its bar
	WithSound Going = "sound" // it keeps its instant, and is called otherwise
)

// Goings lists them.
func Goings() []Going { return []Going{AsUsual, WithBeats, WithSound} }

// Counts reports whether what stands on beats keeps its instant and is called otherwise. It does where beats are only counted anew, unless
// it is said otherwise; else it goes with its beat.
func (c *Correction) Counts() bool {
	switch c.Cues {
	case WithBeats:
		return false
	case WithSound:
		return true
	}
	switch c.Kind {
	case Double, Half, ThreeTwo, TwoThree, BarOne, Metre, Whole:
		return true
	case Split:
		return c.BPM == 0
	}
	return false
}

// ratio gives by how many the beats become more, 1 where they do not.
func (c *Correction) ratio() timeline.Rat {
	switch c.Kind {
	case Double:
		return timeline.NewRat(2, 1)
	case Half:
		return timeline.NewRat(1, 2)
	case ThreeTwo:
		return timeline.NewRat(3, 2)
	case TwoThree:
		return timeline.NewRat(2, 3)
	}
	return timeline.NewRat(1, 1)
}

// String says the correction in the one wording that window, command line and history have.
func (c *Correction) String() string {
	switch c.Kind {
	case Double:
		return "twice as many beats"
	case Half:
		return "half as many beats"
	case ThreeTwo:
		return "three beats for two"
	case TwoThree:
		return "two beats for three"
	case Shift:
		return shiftText(c.Beats)
	case BarOne:
		return "bar 1 at " + c.At.Clock(3)
	case Tempo:
		if c.Here {
			return c.BPM.String() + " bpm at " + c.At.Clock(3)
		}
		return c.BPM.String() + " bpm"
	case Tap:
		return fmt.Sprintf("tapped: %s bpm", c.Pulse.BPM())
	case Line:
		return fmt.Sprintf("bar %d at %s%s", c.Bar, c.At.Clock(3), map[Reach]string{After: ", and all after it", Only: ", that bar only"}[c.Reach])
	case Split:
		if c.BPM > 0 {
			return fmt.Sprintf("%s bpm from %s on", c.BPM, c.At.Clock(3))
		}
		return "tempo split at " + c.At.Clock(3)
	case Metre:
		if c.Here {
			return c.Metre.String() + " from " + c.At.Clock(3) + " on"
		}
		return c.Metre.String()
	case Whole:
		return c.Name
	}
	return string(c.Kind)
}

func shiftText(n timeline.Rat) string {
	word := " later"
	if n.Num() < 0 {
		n, word = n.Neg(), " earlier"
	}
	switch n {
	case timeline.NewRat(1, 1):
		return "a beat" + word
	case timeline.NewRat(1, 2):
		return "half a beat" + word
	}
	return n.String() + " beats" + word
}

// evenBars is over how many bars an even tempo is laid, so that rounding is nothing at the end of any song.
const evenBars = 256

// errNoBeats is what is said where a correction needs a grid and there is none.
var errNoBeats = errors.New("the song has no beats yet: type a tempo, or tap it")

// On gives a map as the correction makes it. The error says why it cannot.
func (c *Correction) On(m *timeline.BeatMap) (*timeline.BeatMap, error) {
	switch {
	case c.Kind == Whole:
		return c.Map, nil
	case m.Empty() && (c.Kind == Tempo || c.Kind == Tap):
		return c.first()
	case m.Empty():
		return nil, errNoBeats
	}
	p := take(m)
	if err := c.change(p, m); err != nil {
		return nil, err
	}
	return p.build()
}

// first makes the map of a song that has none.
func (c *Correction) first() (*timeline.BeatMap, error) {
	metre := c.Metre
	if metre.IsZero() {
		metre = timeline.Metre{Num: 4, Den: 4}
	}
	p := &parts{runs: []run{{bar: 1, metre: metre}}}
	from, length := c.At, c.BPM.lasting
	if c.Kind == Tap {
		from, length = c.Pulse.First, c.Pulse.lasting
	}
	p.even(from, evenBars*metre.Num, length)
	return p.build()
}

// even lays beats of one length from the start of bar 1 on.
func (p *parts) even(from timeline.Time, beats int, lasting func(int) timeline.Time) {
	p.knots = []knot{{timeline.Rat{}, from}, {whole(beats), from + lasting(beats)}}
}

// change does the correction to a map taken apart. m is the map it was.
func (c *Correction) change(p *parts, m *timeline.BeatMap) error {
	switch c.Kind {
	case Double, Half, ThreeTwo, TwoThree:
		p.scale(c.ratio())
	case Shift:
		return c.shift(p)
	case BarOne:
		p.barOne(p.nearest(m, c.At))
	case Tempo:
		return c.tempo(p, m)
	case Tap:
		return c.tapped(p, m)
	case Line:
		return c.line(p, m)
	case Split:
		return c.split(p, m)
	case Metre:
		return c.metre(p, m)
	default:
		return fmt.Errorf("there is no correction %q", c.Kind)
	}
	return nil
}

func (p *parts) scale(by timeline.Rat) {
	for i := range p.knots {
		p.knots[i].count = p.knots[i].count.Mul(by)
	}
	for i := range p.runs {
		p.runs[i].from = p.runs[i].from.Mul(by)
	}
}

// call has every beat that has a time called by so many beats less.
func (p *parts) call(less timeline.Rat) {
	for i := range p.knots {
		p.knots[i].count = p.knots[i].count.Sub(less)
	}
}

// shift moves beats by beats: each comes to stand where another stood. A grid of one tempo moves as it is, so that it stays as plain as it
// was; in any other the times that were known keep their places in the music, and are called otherwise.
func (c *Correction) shift(p *parts) error {
	if c.Beats.IsZero() {
		return errors.New("a shift of no beats changes nothing; give 1, -1 or 1/2")
	}
	if len(p.knots) == 2 {
		p.later(0, p.at(c.Beats)-p.at(timeline.Rat{}))
		return nil
	}
	p.call(c.Beats)
	return nil
}

// nearest gives the count of the beat next to a time.
func (p *parts) nearest(m *timeline.BeatMap, at timeline.Time) timeline.Rat {
	return whole(int(p.count(m.Locate(at)).Add(timeline.NewRat(1, 2)).Floor()))
}

// nearestBar gives the bar whose start is next to a time.
func nearestBar(m *timeline.BeatMap, at timeline.Time) int {
	return m.Snap(at, timeline.Rat{}).Bar
}

// barOne has a beat be the first of bar 1.
func (p *parts) barOne(count timeline.Rat) {
	in := p.place(count).Beat // within its bar: by so much bars move in the music, by the rest they are only called otherwise
	p.call(count)
	for i := range p.runs {
		p.runs[i].from = p.runs[i].from.Sub(count.Sub(in))
	}
}

// tempo gives a stretch another tempo. Its first known beat stays, and for the whole song bar 1; what comes after the stretch moves with its
// end.
func (c *Correction) tempo(p *parts, m *timeline.BeatMap) error {
	if !c.Here {
		p.even(m.BarStart(1), evenBars*p.runs[0].metre.Num, c.BPM.lasting)
		return nil
	}
	p.stretch(p.stretchAt(c.At), c.BPM)
	return nil
}

// stretchAt gives the last knot at or before a time, or the first.
func (p *parts) stretchAt(at timeline.Time) int {
	i := 0
	for i+1 < len(p.knots) && p.knots[i+1].at <= at {
		i++
	}
	return i
}

// stretch gives the stretch from a knot on another tempo.
func (p *parts) stretch(i int, bpm MilliBPM) {
	if i == len(p.knots)-1 {
		p.knots = append(p.knots, knot{count: p.knots[i].count.Add(whole(evenBars))})
		p.knots[i+1].at = p.knots[i].at + bpm.lasting(evenBars)
		return
	}
	beats := rat(p.knots[i+1].count.Sub(p.knots[i].count))
	long := round(beats.Mul(beats, big.NewRat(int64(timeline.Minute)*1000, int64(bpm))))
	p.later(i+1, p.knots[i].at+long-p.knots[i+1].at)
}

// tapped lays the beats of a pulse: in a song of one tempo over all of it, else from the bar next to the first tap on. The beat of the pulse
// that is next to the bar's old line becomes its first.
func (c *Correction) tapped(p *parts, m *timeline.BeatMap) error {
	bar := 1
	if len(p.knots) > 2 {
		bar = nearestBar(m, c.Pulse.First)
	}
	count := p.count(timeline.BarBeat{Bar: bar})
	gap := new(big.Rat).SetInt64(int64(m.BarStart(bar) - c.Pulse.First))
	n := int(round(gap.Mul(gap, big.NewRat(int64(c.Pulse.Over), int64(c.Pulse.Length)))))
	from := c.Pulse.First + c.Pulse.lasting(n)
	beats := evenBars * p.runs[p.runOf(bar)].metre.Num
	if bar == 1 && len(p.knots) == 2 {
		p.even(from, beats, c.Pulse.lasting)
		return nil
	}
	before := timeline.BarBeat{Bar: bar - 1}
	p.add(p.count(before))
	i := p.add(count)
	p.knots = append(p.knots[:i:i], knot{count, from}, knot{count.Add(whole(beats)), from + c.Pulse.lasting(beats)})
	return nil
}

// line moves the line of a bar. Bars that take the difference are even between their lines.
func (c *Correction) line(p *parts, m *timeline.BeatMap) error {
	by := c.At - m.BarStart(c.Bar)
	if c.Reach != After && c.Reach != Only {
		p.later(0, by)
		return nil
	}
	count := func(bar int) timeline.Rat { return p.count(timeline.BarBeat{Bar: bar}) }
	before, here, after := count(c.Bar-1), count(c.Bar), count(c.Bar+1)
	p.add(before)
	p.add(here)
	p.cut(before, here)
	i := p.add(here)
	if c.Reach == After {
		p.add(after) // so that something follows that gives the tempo from here on
		p.later(i, by)
		return p.ordered(c)
	}
	if p.add(after)+1 == len(p.knots) {
		p.add(count(c.Bar + 2)) // so that what follows goes on as it did
	}
	p.cut(here, after)
	p.knots[i].at += by
	return p.ordered(c)
}

// cut forgets the times of the beats between two.
func (p *parts) cut(from, to timeline.Rat) {
	p.knots = slices.DeleteFunc(p.knots, func(k knot) bool { return k.count.Cmp(from) > 0 && k.count.Cmp(to) < 0 })
}

// ordered says where a line was moved past its neighbour.
func (p *parts) ordered(c *Correction) error {
	for i := 1; i < len(p.knots); i++ {
		if p.knots[i].at <= p.knots[i-1].at {
			return fmt.Errorf("bar %d cannot start at %s: the bars beside it would have no length", c.Bar, c.At.Clock(3))
		}
	}
	return nil
}

// split begins a tempo of its own at a bar.
func (c *Correction) split(p *parts, m *timeline.BeatMap) error {
	i := p.add(p.count(timeline.BarBeat{Bar: nearestBar(m, c.At)}))
	if c.BPM > 0 {
		p.stretch(i, c.BPM)
	}
	return nil
}

// metre changes the metre of all bars, or of those from a bar to the next change of metre. Beats that were known keep their instants;
// where another note is counted, such as eighths for quarters, note values keep their length.
func (c *Correction) metre(p *parts, m *timeline.BeatMap) error {
	if err := c.Metre.Check(); err != nil {
		return err
	}
	by := func(was timeline.Metre) timeline.Rat { return timeline.NewRat(int64(c.Metre.Den), int64(was.Den)) }
	if !c.Here {
		if len(p.runs) > 1 {
			for _, r := range p.runs[1:] {
				if r.metre.Den != p.runs[0].metre.Den {
					return errUneven(r.bar)
				}
			}
		}
		scale := by(p.runs[0].metre)
		p.runs = []run{{bar: 1, metre: c.Metre}}
		p.scale(scale)
		return nil
	}
	bar := nearestBar(m, c.At)
	if bar < 1 {
		return fmt.Errorf("%s lies before bar 1: change the metre from bar 1 on", c.At.Clock(3))
	}
	from := p.count(timeline.BarBeat{Bar: bar})
	i := p.runOf(bar)
	scale := by(p.runs[i].metre)
	end := timeline.Rat{} // count at which the next metre begins
	last := i+1 >= len(p.runs)
	if !last {
		end = p.runs[i+1].from
	}
	p.add(from)
	if p.runs[i].from == from && (i > 0 || p.knots[0].count.Cmp(from) >= 0) {
		p.runs[i].metre = c.Metre
	} else {
		i++
		p.runs = append(p.runs[:i:i], append([]run{{from: from, bar: bar, metre: c.Metre}}, p.runs[i:]...)...)
	}
	grown := func(count timeline.Rat) timeline.Rat { return from.Add(count.Sub(from).Mul(scale)) }
	more := grown(end).Sub(end)
	for k := range p.knots {
		switch count := p.knots[k].count; {
		case count.Cmp(from) <= 0:
		case last || count.Cmp(end) <= 0:
			p.knots[k].count = grown(count)
		default:
			p.knots[k].count = count.Add(more)
		}
	}
	for k := i + 1; k < len(p.runs); k++ {
		p.runs[k].from = p.runs[k].from.Add(more)
	}
	return nil
}
