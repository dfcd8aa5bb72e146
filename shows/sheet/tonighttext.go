package sheet

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// WriteText writes the sheet for people, in the order of the day: what is
// played, what is different, what to load, swap and close, who signs.
func (t *Tonight) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	t.writeHead(out)
	t.writeSongs(out)
	t.writeChanges(out)
	t.writeBefore(out)
	t.writeLoad(out)
	t.writeUnused(out)
	t.writeSupplies(out)
	t.writeKeys(out)
	t.writeArms(out)
	t.writeOpen(out)
	t.writeFindings(out)
	t.writePrints(out)
	t.writeSigners(out)
	fmt.Fprintf(out, "\n%s\n", t.Caution)
	return out.Flush()
}

func (t *Tonight) writeHead(out io.Writer) {
	place := given(t.Venue)
	if t.Venue != "" && t.Place != "" {
		place += ", " + t.Place
	}
	for _, f := range [][2]string{{"night", given(t.Night)}, {"date", given(t.Date)}, {"venue", place}, {"revision", given(t.Revision)}, {"show", t.Show},
		{"set", given(t.Set)}, {"timecode", t.Rate}, {"rule set", given(t.RuleSet)}, {"marks used", given(t.Marks)}} {
		fmt.Fprintf(out, "%-11s %s\n", f[0], f[1])
	}
	for _, c := range t.Conditions {
		fmt.Fprintf(out, "%-11s %s (%s)\n", "condition", c.Text, c.From)
	}
	if len(t.Conditions) == 0 {
		fmt.Fprintf(out, "%-11s %s\n", "condition", "not given")
	}
}

// writePart writes a heading and a table, indented; no rows is a line that says
// so.
func writePart(out io.Writer, heading string, columns []Column, rows [][]string, none string) {
	fmt.Fprintf(out, "\n%s\n", heading)
	if len(rows) == 0 {
		fmt.Fprintf(out, "  %s\n", none)
		return
	}
	var b strings.Builder
	_ = (&Table{Columns: columns, Rows: rows}).Write(&b) // a builder takes everything
	for line := range strings.Lines(b.String()) {
		io.WriteString(out, "  "+line)
	}
}

func (t *Tonight) writeSongs(out io.Writer) {
	var rows [][]string
	for i := range t.Songs {
		rows = append(rows, t.Songs[i].cells())
	}
	fmt.Fprintf(out, "\nSet time: %s, of alternatives the longest; a song is thin when more than %s of its hits are lost (%s)\n", timeline.Time(t.Length).Clock(0), plainNumber(t.Thin), t.ThinFrom)
	writePart(out, "Songs", []Column{{"no", true}, {"title", false}, {"start", false}, {"set time", true}, {"length", true}, {"hits", true}, {"cut", true},
		{"swapped", true}, {"lost", true}, {"partly", true}, {"longest gap", true}, {"", false}}, rows, "no song is played")
	for i := range t.Songs {
		for _, l := range t.Songs[i].Reasons {
			fmt.Fprintf(out, "  lost in %d: cue %s: %s", t.Songs[i].Number, l.Cue, l.Reason)
			if l.Name != "" {
				fmt.Fprintf(out, " (%s)", l.Name)
			}
			fmt.Fprintln(out)
		}
	}
	for _, n := range t.NotPlayed {
		fmt.Fprintf(out, "  not played: %s, %s\n", n.Title, n.Why)
	}
}

func (s *TonightSong) cells() []string {
	gap := ""
	if s.GapAfter != "" {
		gap = timeline.Time(s.Gap).Clock(1)
	}
	n := strconv.Itoa
	return []string{n(s.Number), s.Title, s.Start, timeline.Time(s.At).Clock(0), timeline.Time(s.Duration).Clock(0), n(s.Hits), n(s.Cut), n(s.Swapped), n(s.Lost), n(s.Partly), gap, s.remark()}
}

// remark says what is not as on the tour.
func (s *TonightSong) remark() string {
	var parts []string
	if s.Thin {
		parts = append(parts, fmt.Sprintf("THIN: %d of %d hits lost", s.Tour-s.Hits, s.Tour))
	}
	if s.Gap > s.GapTour && s.GapAfter != "" {
		text := fmt.Sprintf("gap on tour %s, tonight's after %s", timeline.Time(s.GapTour).Clock(1), s.GapAfter)
		if s.GapBar != "" {
			text += " bar " + s.GapBar
		}
		parts = append(parts, text)
	}
	if s.Moved {
		parts = append(parts, "start moved")
	}
	if s.Shift != 0 {
		parts = append(parts, "moved by "+timeline.Time(s.Shift).String()+" s")
	}
	if s.Encore {
		parts = append(parts, "encore")
	}
	if s.Alt != "" {
		parts = append(parts, "alternative "+s.Alt)
	}
	return strings.Join(parts, "; ")
}

func (t *Tonight) writeChanges(out io.Writer) {
	var rows [][]string
	for _, c := range t.Changes {
		rows = append(rows, []string{c.Text, strconv.Itoa(c.Cues), given(c.Reason)})
	}
	writePart(out, "Other than on tour", []Column{{"what", false}, {"cues", true}, {"reason", false}}, rows, "nothing")
}

func (t *Tonight) writeLoad(out io.Writer) {
	fmt.Fprintf(out, "\nOn site: %s, NEC %s g%s\n", counted(t.Used.Pieces, "piece"), grams(t.Used.NEC), t.Used.beside())
	for _, d := range t.Used.Divisions {
		fmt.Fprintf(out, "  %s: %s, NEC %s g\n", division(d.Division), counted(d.Pieces, "piece"), grams(d.NEC))
	}
	if len(t.Load) == 0 {
		fmt.Fprintln(out, "To load: nothing that is used up is commanded")
	}
	for i := range t.Load {
		b := &t.Load[i]
		name := "at " + b.Name
		if b.ID == "" {
			name = "and not wired"
		}
		if b.Dead {
			name += ", OUT OF SERVICE"
		}
		var rows [][]string
		for k := range b.Units {
			rows = append(rows, b.Units[k].cells())
		}
		writePart(out, "To load "+name+": "+counted(b.Used.Pieces, "piece")+", NEC "+grams(b.Used.NEC)+" g", unitColumns, rows, "")
	}
}

var unitColumns = []Column{{"output", true}, {"placed effect", false}, {"position", false}, {"article", false}, {"pieces", true}, {"NEC g", true}, {"division", false}, {"state", false}}

func (u *TonightUnit) cells() []string {
	output := "–"
	if u.Output > 0 {
		output = strconv.Itoa(u.Output)
	}
	return []string{output, u.PlacedName, u.Position, u.ArticleName, strconv.Itoa(u.Pieces), grams(u.NEC), given(u.Division), strings.Join(u.State, ", ")}
}

func (t *Tonight) writeUnused(out io.Writer) {
	var rows [][]string
	for i := range t.Unused {
		u := &t.Unused[i]
		cells := u.cells()
		state := slices.DeleteFunc(slices.Clone(u.State), func(s string) bool { return s == "not used" || s == "not wired" })
		rows = append(rows, []string{u.Bank, cells[0], u.PlacedName, u.Position, u.ArticleName, cells[4], cells[5], strings.Join(state, ", ")})
	}
	writePart(out, "In the rig and not commanded: leave empty or take out; counted until it is out of the night's rig",
		[]Column{{"bank", false}, {"output", true}, {"placed effect", false}, {"position", false}, {"article", false}, {"pieces", true}, {"NEC g", true}, {"", false}}, rows, "nothing")
}

func (t *Tonight) writeSupplies(out io.Writer) {
	var rows [][]string
	for i := range t.Supplies {
		s := &t.Supplies[i]
		fill := "as filled"
		switch {
		case s.Weighed:
			fill = "weighed"
		case s.After != "":
			fill = "left " + s.After
		}
		rows = append(rows, []string{s.Name, given(s.Medium), kilograms(s.Usable), fill, kilograms(s.Reserve), kilograms(s.Uses), strconv.Itoa(len(s.Swaps)), kilograms(s.Left)})
	}
	writePart(out, "Supplies (estimates; reserve as set, 15 % is our judgement)", []Column{{"supply", false}, {"medium", false}, {"usable", true}, {"fill", false}, {"reserve", true}, {"tonight uses", true}, {"swaps", true}, {"left", true}}, rows, "none in the rig")
	for i := range t.Supplies {
		t.Supplies[i].writeSwaps(out)
	}
}

func (s *TonightSupply) writeSwaps(out io.Writer) {
	if s.Short {
		fmt.Fprintf(out, "  %s: one hit takes more than a full one holds above its reserve\n", s.Name)
	}
	if s.ByHand > 0 {
		fmt.Fprintf(out, "  %s: keys of the operator's plan are counted with %s, the most they can take\n", s.Name, kilograms(s.ByHand))
	}
	for i := range s.Refills {
		s.Refills[i].write(out, s.Name)
	}
	for _, p := range s.Swaps {
		if p.SongNumber == 0 {
			fmt.Fprintf(out, "  swap %s before the show, with %s left; first draw in song %d at %s\n", s.Name, kilograms(p.Left), p.NextNumber, p.NextAt)
			continue
		}
		fmt.Fprintf(out, "  swap %s after hit %d of song %d %q, %s, with %s left; next draw in song %d at %s, %s s later\n", s.Name, p.Hit, p.SongNumber, p.SongTitle, p.Timecode,
			kilograms(p.Left), p.NextNumber, p.NextAt, timeline.Time(p.Free).Text(1))
	}
}

func (r *TonightRefill) write(out io.Writer, supply string) {
	if r.SongNumber == 0 {
		fmt.Fprintf(out, "  the refill of %s after %q is not done: that song is not played\n", supply, r.SongTitle)
		return
	}
	minutes, by := "minutes not given", given(r.By)
	if r.Minutes > 0 {
		minutes = strconv.FormatFloat(r.Minutes, 'f', -1, 64) + " min"
	}
	text := fmt.Sprintf("  refill %s to %s after song %d %q, %s, by %s", supply, kilograms(r.Holds), r.SongNumber, r.SongTitle, minutes, by)
	if !r.Counts {
		text += "; not counted, for that song may not be played"
	}
	fmt.Fprintln(out, text)
}

func (t *Tonight) writeArms(out io.Writer) {
	for _, part := range []struct {
		heading, none string
		list          []TonightArm
	}{{"Arms and conditions", "none is commanded", t.Arms}, {"Raised for nothing tonight: cut these windows, or leave the device unplugged", "nothing", t.Idle}} {
		var rows [][]string
		for i := range part.list {
			rows = append(rows, part.list[i].cells())
		}
		writePart(out, part.heading, []Column{{"device", false}, {"role", false}, {"slots", false}, {"windows", true}, {"songs", false}, {"first up", false}, {"last down", false}}, rows, part.none)
	}
}

func joinNumbers(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}

func (t *Tonight) writeOpen(out io.Writer) {
	var rows [][]string
	for _, o := range t.ByHand {
		closes := o.Closes
		if closes == "" {
			closes = "never"
		}
		rows = append(rows, []string{strconv.Itoa(o.SongNumber), o.What, o.Role, labels(o.Outputs), o.Opened, closes})
	}
	writePart(out, "Open when the song ends: close by hand", []Column{{"song", true}, {"what", false}, {"role", false}, {"outputs", false}, {"opened", false}, {"closes", false}}, rows, "nothing")
}

func (t *Tonight) writeFindings(out io.Writer) {
	fmt.Fprintf(out, "\nFindings\n  %s\n", t.Checked)
	for _, r := range t.Rules {
		fmt.Fprintf(out, "  %-20s %4d", r.Rule, r.Found)
		if r.Accepted > 0 {
			fmt.Fprintf(out, "  %d accepted", r.Accepted)
		}
		fmt.Fprintln(out)
	}
}

func (t *Tonight) writePrints(out io.Writer) {
	fmt.Fprintln(out, "\nPrinted sheets")
	if len(t.Prints) == 0 {
		fmt.Fprintln(out, "  none is marked as printed: export --mark notes it")
		return
	}
	_ = WritePrintStates(out, t.Prints) // the writer behind keeps its error
}

func (t *Tonight) writeSigners(out io.Writer) {
	fmt.Fprintln(out, "\nTo sign")
	for _, s := range t.Sign {
		fmt.Fprintf(out, "  %-18s name: %-22s ____________________  %s\n", s.Role, given(s.Name), s.For)
	}
}
