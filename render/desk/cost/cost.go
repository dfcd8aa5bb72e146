package cost

import (
	"image"
	"runtime/metrics"
	"strconv"
	"time"

	"emberbeat/render"
)

// Beside is what a show has cost beside its frames.
type Beside struct {
	Compiles, Checks int           // how often
	Compile, Check   time.Duration // how long the last of each took
}

// Of is what a piece of a frame's work has cost.
type Of struct {
	Last, Worst time.Duration // of the last frame, and of the frames of the last Span
}

// Span is how long a frame counts for the worst one.
const Span = 5 * time.Second

// Counter counts frames. The zero value is ready; it belongs to the window's goroutine.
type Counter struct {
	work, paint ring
	garbage     garbage
	text        []byte
}

// Worked counts a frame that was made from one moment to another.
func (c *Counter) Worked(from, to time.Time) { c.work.add(from, to) }

// Painted counts one that was painted.
func (c *Counter) Painted(from, to time.Time) { c.paint.add(from, to) }

// Work gives what making frames costs at a moment, Paint what painting them does.
func (c *Counter) Work(now time.Time) Of { return c.work.of(now) }

// Paint gives what painting frames costs.
func (c *Counter) Paint(now time.Time) Of { return c.paint.of(now) }

// kept is how many frames are remembered: those of Span at the pace of most displays.
const kept = 320

// ring remembers the last frames.
type ring struct {
	list [kept]frame
	n    int // of all that were counted
}

type frame struct {
	at   time.Time
	took time.Duration
}

func (r *ring) add(from, to time.Time) {
	r.list[r.n%kept] = frame{to, to.Sub(from)}
	r.n++
}

func (r *ring) of(now time.Time) (o Of) {
	for i := range min(r.n, kept) {
		f := &r.list[(r.n-1-i)%kept]
		if now.Sub(f.at) > Span {
			break
		}
		if i == 0 {
			o.Last = f.took
		}
		o.Worst = max(o.Worst, f.took)
	}
	return o
}

// garbage is what was allocated from look to look.
type garbage struct {
	samples [2]metrics.Sample
	at      time.Time
	frames  int // made when it was looked at last
	bytes   uint64
	cycles  uint64
	each    uint64 // bytes a frame, between the last two looks
	ran     uint64 // collections between them
}

// lookEvery is how often the runtime is asked what was allocated: asking costs more than counting.
const lookEvery = time.Second

// look asks the runtime, unless it was asked just now.
func (g *garbage) look(now time.Time, frames int) {
	if now.Sub(g.at) < lookEvery {
		return
	}
	g.samples[0].Name, g.samples[1].Name = "/gc/heap/allocs:bytes", "/gc/cycles/total:gc-cycles"
	metrics.Read(g.samples[:])
	bytes, cycles := g.samples[0].Value.Uint64(), g.samples[1].Value.Uint64()
	if !g.at.IsZero() {
		g.each, g.ran = (bytes-g.bytes)/uint64(max(frames-g.frames, 1)), cycles-g.cycles
	}
	g.at, g.frames, g.bytes, g.cycles = now, frames, bytes, cycles
}

// Logical measures of the figures.
const (
	wide  = 330
	line  = 17
	lines = 5
	pad   = 8
)

// Draw sets the figures at the bottom right of an area, over whatever stands there.
func (c *Counter) Draw(s *render.Scene, area image.Rectangle, now time.Time, b Beside) {
	c.garbage.look(now, c.work.n)
	box := image.Rect(area.Max.X-s.Px(wide+pad), area.Max.Y-s.Px(lines*line+3*pad), area.Max.X-s.Px(pad), area.Max.Y-s.Px(pad))
	s.Rect(box, render.InkPanel)
	s.Frame(box, s.Px(1), render.InkEdge)
	row := image.Rect(box.Min.X+s.Px(pad), box.Min.Y+s.Px(pad), box.Max.X-s.Px(pad), box.Min.Y+s.Px(pad+line))
	next := func(name string) {
		s.TextIn(row, render.Left, render.TypeSmall, render.InkSecondary, name)
		s.BytesIn(row, render.Right, render.TypeSmall, render.InkText, c.text)
		row = row.Add(image.Pt(0, s.Px(line)))
	}
	for _, x := range [...]struct {
		name string
		of   Of
	}{{"frame made in", c.work.of(now)}, {"painted in", c.paint.of(now)}} {
		c.text = append(appendMS(append(appendMS(c.text[:0], x.of.Last), ", at most "...), x.of.Worst), " in 5 s"...)
		next(x.name)
	}
	c.text = appendTimes(appendMS(c.text[:0], b.Compile), b.Compiles)
	next("plan compiled in")
	c.text = appendTimes(appendMS(c.text[:0], b.Check), b.Checks)
	next("rules asked in")
	c.text = append(strconv.AppendUint(c.text[:0], c.garbage.each, 10), " bytes a frame, collected "...)
	c.text = append(strconv.AppendUint(c.text, c.garbage.ran, 10), "×"...)
	next("garbage")
}

// appendMS writes a time in milliseconds with two decimals.
func appendMS(b []byte, d time.Duration) []byte {
	h := (d + 5*time.Microsecond) / (10 * time.Microsecond)
	b = strconv.AppendInt(b, int64(h/100), 10)
	return append(b, '.', byte('0'+h/10%10), byte('0'+h%10), ' ', 'm', 's')
}

func appendTimes(b []byte, n int) []byte {
	return append(strconv.AppendInt(append(b, ", "...), int64(n), 10), " times"...)
}
