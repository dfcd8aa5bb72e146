package night

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
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
	place := wording.Given(t.Venue)
	if t.Venue != "" && t.Place != "" {
		place += ", " + t.Place
	}
	for _, f := range [][2]string{{"night", wording.Given(t.Night)}, {"date", wording.Given(t.Date)}, {"venue", place}, {"revision", wording.Given(t.Revision)}, {"show", t.Show},
		{"set", wording.Given(t.Set)}, {"timecode", t.Rate}, {"rule set", wording.Given(t.RuleSetSaid)}, {"marks used", wording.Given(t.Marks)}} {
		fmt.Fprintf(out, "%-11s %s\n", f[0], f[1])
	}
	if t.Played != "" {
		fmt.Fprintf(out, "%-11s %s\n", report.PlayedLabel, t.Played)
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
func writePart(out io.Writer, heading string, columns []wording.Column, rows [][]string, none string) {
	fmt.Fprintf(out, "\n%s\n", heading)
	if len(rows) == 0 {
		fmt.Fprintf(out, "  %s\n", none)
		return
	}
	var b strings.Builder
	_ = (&wording.Table{Columns: columns, Rows: rows}).Write(&b) // a builder takes everything
	for line := range strings.Lines(b.String()) {
		io.WriteString(out, "  "+line)
	}
}

func (t *Tonight) writeSongs(out io.Writer) {
	var rows [][]string
	for i := range t.Songs {
		rows = append(rows, t.Songs[i].cells())
	}
	fmt.Fprintf(out, "\nSet time: %s, of alternatives the longest; a song is thin when more than %s of its hits are lost (%s)\n", timeline.Time(t.Length).Clock(0), wording.PlainNumber(t.Thin), t.ThinFrom)
	writePart(out, "Songs", []wording.Column{{Name: "no", Right: true}, {Name: "title", Right: false}, {Name: "start", Right: false}, {Name: "set time", Right: true}, {Name: "length", Right: true}, {Name: "hits", Right: true}, {Name: "cut", Right: true},
		{Name: "swapped", Right: true}, {Name: "lost", Right: true}, {Name: "partly", Right: true}, {Name: "longest gap", Right: true}, {Name: "", Right: false}}, rows, "no song is played")
	for i := range t.Songs {
		for _, l := range t.Songs[i].Reasons {
			fmt.Fprintf(out, "  lost in %d: %s\n", t.Songs[i].Number, l.Said())
		}
	}
	for _, n := range t.NotPlayed {
		fmt.Fprintf(out, "  not played: %s, %s\n", n.Title, n.Why)
	}
}

func (s *Song) cells() []string {
	gap := ""
	if s.GapAfter != "" {
		gap = timeline.Time(s.Gap).Clock(1)
	}
	n := strconv.Itoa
	return []string{n(s.Number), s.Title, s.Start, timeline.Time(s.At).Clock(0), timeline.Time(s.Duration).Clock(0), n(s.Hits), n(s.Cut), n(s.Swapped), n(s.Lost), n(s.Partly), gap, s.remark()}
}

// remark says what is not as on the tour.
func (s *Song) remark() string {
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
		rows = append(rows, []string{c.Text, strconv.Itoa(c.Cues), wording.Given(c.Reason)})
	}
	writePart(out, "Changes from the tour", []wording.Column{{Name: "what", Right: false}, {Name: "cues", Right: true}, {Name: "reason", Right: false}}, rows, "nothing")
}

func (t *Tonight) writeLoad(out io.Writer) {
	fmt.Fprintf(out, "\nOn site: %s, NEC %s g%s\n", timeline.Counted(t.Used.Pieces, "piece"), wording.Grams(t.Used.NEC), t.Used.Beside())
	for _, d := range t.Used.Divisions {
		fmt.Fprintf(out, "  %s: %s, NEC %s g\n", wording.Division(d.Division), timeline.Counted(d.Pieces, "piece"), wording.Grams(d.NEC))
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
		writePart(out, "To load "+name+": "+timeline.Counted(b.Used.Pieces, "piece")+", NEC "+wording.Grams(b.Used.NEC)+" g", unitColumns, rows, "")
	}
}

var unitColumns = []wording.Column{{Name: "output", Right: true}, {Name: "placed effect", Right: false}, {Name: "position", Right: false}, {Name: "article", Right: false}, {Name: "pieces", Right: true}, {Name: "NEC g", Right: true}, {Name: "division", Right: false}, {Name: "state", Right: false}}

func (u *Unit) cells() []string {
	output := "–"
	if u.Output > 0 {
		output = strconv.Itoa(u.Output)
	}
	return []string{output, u.PlacedName, u.Position, u.ArticleName, strconv.Itoa(u.Pieces), wording.Grams(u.NEC), wording.Given(u.Division), strings.Join(u.State, ", ")}
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
		[]wording.Column{{Name: "bank", Right: false}, {Name: "output", Right: true}, {Name: "placed effect", Right: false}, {Name: "position", Right: false}, {Name: "article", Right: false}, {Name: "pieces", Right: true}, {Name: "NEC g", Right: true}, {Name: "", Right: false}}, rows, "nothing")
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
		rows = append(rows, []string{s.Name, wording.Given(s.Medium), wording.Mass(t.Told, s.Usable), fill, wording.Mass(t.Told, s.Reserve), wording.Mass(t.Told, s.Uses), strconv.Itoa(len(s.Swaps)), wording.Mass(t.Told, s.Left)})
	}
	writePart(out, "Supplies (estimates; reserve as set, 15 % is our judgement)", []wording.Column{{Name: "supply", Right: false}, {Name: "medium", Right: false}, {Name: "usable", Right: true}, {Name: "fill", Right: false}, {Name: "reserve", Right: true}, {Name: "tonight uses", Right: true}, {Name: "swaps", Right: true}, {Name: "left", Right: true}}, rows, "none in the rig")
	for i := range t.Supplies {
		t.Supplies[i].WriteSwaps(out)
	}
}

func (t *Tonight) writeArms(out io.Writer) {
	for _, part := range []struct {
		heading, none string
		list          []Arm
	}{{"Arms and conditions", "none is commanded", t.Arms}, {"Arms raised with nothing to fire: cut these windows, or leave the device unplugged", "nothing", t.Idle}} {
		var rows [][]string
		for i := range part.list {
			rows = append(rows, part.list[i].cells())
		}
		writePart(out, part.heading, []wording.Column{{Name: "device", Right: false}, {Name: "role", Right: false}, {Name: "slots", Right: false}, {Name: "windows", Right: true}, {Name: "songs", Right: false}, {Name: "first up", Right: false}, {Name: "last down", Right: false}}, rows, part.none)
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
		rows = append(rows, []string{strconv.Itoa(o.SongNumber), o.What, o.Role, report.Labels(o.Outputs), o.Opened, closes})
	}
	writePart(out, "Open when the song ends: close by hand", []wording.Column{{Name: "song", Right: true}, {Name: "what", Right: false}, {Name: "role", Right: false}, {Name: "outputs", Right: false}, {Name: "opened", Right: false}, {Name: "closes", Right: false}}, rows, "nothing")
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
	fmt.Fprintln(out, "\nWhat the rules were asked")
	for _, line := range t.Standing.Lines() {
		fmt.Fprintf(out, "  %-20s %s\n", line[0], line[1])
	}
}

func (t *Tonight) writePrints(out io.Writer) {
	fmt.Fprintln(out, "\nPrinted sheets")
	if len(t.Prints) == 0 {
		fmt.Fprintln(out, "  none is marked as printed: export --mark notes it")
		return
	}
	_ = report.WritePrintStates(out, t.Prints) // the writer behind keeps its error
}

func (t *Tonight) writeSigners(out io.Writer) {
	fmt.Fprintln(out, "\nTo sign")
	for _, s := range t.Sign {
		fmt.Fprintf(out, "  %-18s name: %-22s ____________________  %s\n", s.Role, wording.Given(s.Name), s.For)
	}
}
