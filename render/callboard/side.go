package callboard

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/shows/report/calling"
	"emberbeat/timeline"
)

// armsMost is how many arms are listed.
const armsMost = 3

// arms lists what is planned up.
func (d *Drawer) arms() {
	s := d.s
	d.put(d.rect(1260, 556, 1896, 596), render.Left, d.letters(20, false), render.InkSecondary, "Arms, as planned")
	if len(d.m.Arms) == 0 {
		d.put(d.rect(1260, 606, 1890, 646), render.Left, d.letters(20, false), render.InkFaint, "no arm is planned by timecode in this song")
		return
	}
	y := 602
	for i := range d.m.Arms {
		if i == armsMost {
			d.text = append(strconv.AppendInt(d.text[:0], int64(len(d.m.Arms)-i), 10), " more"...)
			d.bytes(d.rect(1700, 556, 1896, 596), render.Right, d.letters(18, false), render.InkSecondary)
			break
		}
		a := &d.m.Arms[i]
		r := d.rect(1256, y, 1896, y+54)
		d.card(r, a.Up)
		if a.Up {
			s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Min.X+d.rect(0, 0, 8, 0).Dx(), r.Max.Y), render.InkText)
		}
		d.put(d.rect(1284, y, 1500, y+54), render.Left, d.letters(24, true), render.InkText, a.Arm.Name)
		d.put(d.rect(1510, y, 1650, y+54), render.Left, d.letters(20, false), render.InkText, planned(a))
		d.until(a)
		d.bytes(d.rect(1655, y, 1882, y+54), render.Right, d.letters(18, false), render.InkText)
		y += 60
	}
}

// planned says in words what the plan has an arm do: the program cannot know what it
// does.
func planned(a *calling.ArmState) string {
	on := a.Arm.Role != timeline.ArmSlot
	switch {
	case a.Up && on:
		return "planned on"
	case a.Up:
		return "planned up"
	case on:
		return "planned off"
	}
	return "planned down"
}

// until writes how long that lasts.
func (d *Drawer) until(a *calling.ArmState) {
	d.text = d.text[:0]
	switch {
	case a.Span == nil:
		d.text = append(d.text, "to the end"...)
		return
	case a.Up && a.Span.Open:
		d.text = append(d.text, "nothing lowers it"...)
		return
	case a.Up:
		d.text = append(append(d.text, "until "...), a.Span.DwnAt...)
	default:
		d.text = append(append(d.text, "from "...), a.Span.UpAt...)
	}
	if d.v.Running && !d.m.Held {
		d.text = append(d.text, ", in "...)
		d.text = d.countdown(d.text, a.In)
		if a.In < 100*timeline.Second {
			d.text = append(d.text, " s"...)
		}
	}
}

// hold is the card of a hold, marked by hand.
func (d *Drawer) hold() {
	d.put(d.rect(1260, 784, 1896, 818), render.Left, d.letters(20, false), render.InkSecondary, "Hold, marked here by hand")
	r := d.rect(1256, 820, 1896, 908)
	d.card(r, d.m.Held)
	if !d.m.Held {
		d.put(d.rect(1276, 822, 1880, 866), render.Left, d.letters(24, true), render.InkText, "No hold marked")
		d.put(d.rect(1276, 866, 1880, 904), render.Left, d.letters(18, false), render.InkText, "H marks one")
		return
	}
	d.text = append(d.text[:0], "HELD since "...)
	d.text = d.appendPlace(d.text, d.m.Since)
	d.bytes(d.rect(1276, 822, 1880, 866), render.Left, d.letters(24, true), render.InkText)
	d.put(d.rect(1276, 866, 1880, 904), render.Left, d.letters(18, false), render.InkText, "H ends it: on release by the person named for its reason")
}

// appendPlace writes bar and beat of a time, or the time.
func (d *Drawer) appendPlace(b []byte, at timeline.Time) []byte {
	if beats := d.b.Song.Song.Beats; !beats.Empty() {
		p := beats.Locate(at)
		b = append(strconv.AppendInt(b, int64(p.Bar), 10), '.')
		return strconv.AppendInt(b, p.Beat.Floor()+1, 10)
	}
	return appendClock(b, at)
}

// missed is the card of what was marked missed, and of where to go on.
func (d *Drawer) missed() {
	d.s.Rect(d.rect(0, 917, 1920, 918), render.InkBar)
	r := d.rect(24, 932, 1240, 1036)
	d.card(r, len(d.m.Missed) > 0)
	box := d.rect(48, 936, 820, 970)
	if len(d.m.Missed) == 0 {
		d.put(box, render.Left, d.letters(20, false), render.InkSecondary, "Nothing marked missed; M marks the last one")
	} else {
		d.text = append(strconv.AppendInt(d.text[:0], int64(len(d.m.Missed)), 10), " marked missed in this song"...)
		d.bytes(box, render.Left, d.letters(22, true), render.InkText)
		line := d.rect(48, 970, 820, 1002)
		for k := len(d.m.Missed) - 1; k >= 0 && line.Dx() > d.s.Px(60); k-- {
			c := &d.b.Cues[d.m.Missed[k]]
			d.text = append(append(append(d.text[:0], c.Name...), ' '), c.Bar...)
			if k > 0 {
				d.text = append(d.text, " · "...)
			}
			t := d.fit(line, d.letters(20, false))
			if w := d.s.Face(t).MeasureBytes(d.text); w <= line.Dx() {
				d.s.BytesIn(line, render.Left, t, render.InkText, d.text)
				line.Min.X += w
				continue
			}
			d.put(line, render.Left, t, render.InkText, "…")
			break
		}
		d.put(d.rect(48, 1002, 820, 1034), render.Left, d.letters(18, false), render.InkText, "Never fire late. Backspace takes the last mark back.")
	}
	d.put(d.rect(830, 936, 1222, 966), render.Right, d.letters(20, false), render.InkSecondary, "Re-entry after a hold")
	big, small := d.rect(830, 964, 1222, 1004), d.rect(830, 1002, 1222, 1034)
	if d.m.Entry == nil {
		d.put(big, render.Right, d.letters(28, true), render.InkText, "with the next song")
		return
	}
	e := d.m.Entry
	d.put(big, render.Right, d.letters(28, true), render.InkText, e.Bar)
	d.text = append(append(d.text[:0], e.Name...), e.Less...)
	if d.m.Held {
		d.text = append(d.text, ", on release"...)
	}
	d.bytes(small, render.Right, d.letters(18, false), render.InkText)
}

// note shows the next note in the user's words.
func (d *Drawer) note() {
	r := d.rect(1256, 932, 1896, 1036)
	d.card(r, false)
	if d.m.Note == nil {
		d.put(d.rect(1276, 936, 1880, 970), render.Left, d.letters(18, false), render.InkSecondary, "No more notes in this song")
		return
	}
	c := d.m.Note
	d.text = append(append(append(d.text[:0], "Your note for "...), c.Bar...), ", "...)
	d.text = append(d.text, c.Name...)
	d.bytes(d.rect(1276, 936, 1880, 970), render.Left, d.letters(18, false), render.InkSecondary)
	d.put(d.rect(1276, 972, 1880, 1030), render.Left, d.letters(24, false), render.InkText, c.Text)
}

// foot says what keys do, and what went wrong.
func (d *Drawer) foot() {
	d.s.Rect(d.rect(0, 1048, 1920, 1080), render.InkPanel)
	text, ink := d.v.Keys, render.InkSecondary
	if d.v.Note != "" {
		text, ink = d.v.Note, render.InkText
	}
	d.put(d.rect(24, 1048, 1896, 1080), render.Left, d.letters(17, false), ink, text)
}
