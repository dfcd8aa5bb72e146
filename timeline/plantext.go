package timeline

import (
	"fmt"
	"strings"
)

// Text writes the plan for tests and bug reports: one line a command, window
// or lost cue, in order, times with 4 digits, names quoted. It is no show
// format and is never read back.
func (p *Plan) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "plan %q rate %s", p.Show.Head.Title, p.Rate)
	if p.Set != nil {
		fmt.Fprintf(&b, " set %q", p.Set.Name)
	}
	if p.Night != nil {
		fmt.Fprintf(&b, " night %q", p.Night.Name)
	}
	b.WriteByte('\n')
	for i := range p.Songs {
		p.Songs[i].text(&b)
	}
	return b.String()
}

func (ps *PlanSong) text(b *strings.Builder) {
	fmt.Fprintf(b, "song %d %q from %s to %s, audio at %s, set time %s\n", ps.Number, ps.Song.Title,
		ps.Rate.Label(ps.First()), ps.Rate.Label(ps.Last()), ps.Rate.Label(ps.Start), ps.At.Clock(4))
	if ps.StartErr != nil {
		fmt.Fprintf(b, "  start: %v\n", ps.StartErr)
	}
	for i := range ps.Commands {
		c := &ps.Commands[i]
		fmt.Fprintf(b, "  %s %s command %s hit %s = %s lead %s open %s level %d: %q on %q by %s [%s]\n",
			ps.Rate.Label(c.Frame), residualText(c.Residual()), c.At, c.Cue.At, c.Hit, c.Lead, c.Open, c.Level,
			c.Article.Name, c.Unit.Placed.Name, outputsText(c.Drives()), c.Cue.ID)
	}
	for i := range ps.Windows {
		w := &ps.Windows[i]
		down := "never down"
		if w.Closes() {
			down = fmt.Sprintf("down %s %s", ps.Rate.Label(w.DownFrame), w.Down)
		}
		fmt.Fprintf(b, "  %s %s up %s %s: %q [%s]\n", ps.Rate.Label(w.UpFrame), w.Role, w.Up, down, w.Device.Name, w.Cue.ID)
	}
	for _, l := range ps.Lost {
		fmt.Fprintf(b, "  lost %s: %s: %q\n", l.Cue.ID, l.Reason, l.Name)
	}
	for _, c := range ps.Cut {
		fmt.Fprintf(b, "  cut %s\n", c.ID)
	}
}

// residualText writes a residual in milliseconds with its sign.
func residualText(t Time) string {
	s := (t * 1000).Text(2)
	if t >= 0 {
		s = "+" + s
	}
	return s + " ms"
}

// OutputsText names the unit's outputs as they are printed, joined by " + ";
// dead ones say so.
func (u *Unit) OutputsText() string { return outputsText(u.Drives) }

func outputsText(drives []Drive) string {
	if len(drives) == 0 {
		return "no output"
	}
	var parts []string
	for _, d := range drives {
		s := d.Label(EffectSlot)
		if d.Dead {
			s += " (dead)"
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, " + ")
}
