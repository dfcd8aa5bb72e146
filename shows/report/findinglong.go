package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// WriteLong writes each finding with a drawing of its events in time, where
// its limits stand and what would make it valid; then what was checked, and
// the caution of every sheet.
func (l *Findings) WriteLong(w io.Writer) error {
	out := bufio.NewWriter(w)
	for i := range l.List {
		l.List[i].long(out)
		fmt.Fprintln(out)
	}
	fmt.Fprintln(out, l.Checked.String())
	fmt.Fprintln(out, Caution)
	return out.Flush()
}

func (f *FindingLine) long(out io.Writer) {
	fmt.Fprintln(out, f.Short())
	f.draw(out)
	for _, g := range f.Why {
		fmt.Fprintf(out, "  why: %s\n", g)
	}
	fmt.Fprintf(out, "  help: %s\n", f.Help)
	if f.Fix != "" {
		fmt.Fprintf(out, "  fix: %s\n", f.Fix)
	}
}

// String says what a limit is and where it stands.
func (g Ground) String() string {
	s := fmt.Sprintf("%s %s is %s", g.named, g.Field, g.Value)
	var known []string
	if g.File != "" && g.Line > 0 {
		known = append(known, fmt.Sprintf("%s:%d", g.File, g.Line))
	}
	if g.Mark != "" {
		known = append(known, markName(g.Mark))
	}
	if g.Source != "" && g.Source != "our judgement" && g.Source != "common practice, no source" {
		known = append(known, g.Source)
	}
	if len(known) > 0 {
		s += " (" + strings.Join(known, "; ") + ")"
	}
	return s
}

// markName writes a mark with what it means.
func markName(mark string) string {
	switch timeline.Mark(mark) {
	case timeline.Published:
		return "S, published source"
	case timeline.FromMemory:
		return "M, from memory of a named document"
	case timeline.CommonPractice:
		return "C, common practice"
	case timeline.Judgement:
		return "J, our judgement"
	case timeline.Derived:
		return "D, computed here"
	case timeline.Typed:
		return "what its record says"
	}
	return mark
}

// barWidth is the number of columns of a drawing.
const barWidth = 48

// draw shows the events of a finding in time, one line each, over one scale.
func (f *FindingLine) draw(out io.Writer) {
	if len(f.spans) == 0 {
		return
	}
	from, to, names := f.spans[0].From, f.spans[0].To, 0
	for _, s := range f.spans {
		from, to, names = min(from, s.From), max(to, s.To), max(names, utf8.RuneCountInString(s.Name))
	}
	for _, s := range f.spans {
		pad := strings.Repeat(" ", names-utf8.RuneCountInString(s.Name))
		fmt.Fprintf(out, "    %s%s │%s│ %s\n", s.Name, pad, bar(s, from, to), f.when(s))
	}
}

// when says when a span begins, and how long it is.
func (f *FindingLine) when(s rule.Span) string {
	at := s.From.Clock(4)
	if f.song != nil {
		at = f.song.Label(s.From)
	}
	if s.To == s.From {
		return at
	}
	return at + " for " + (s.To - s.From).Text(4) + " s"
}

// bar draws a span between two times: a line with ends, or a mark for an
// instant and for what is too short to have two ends.
func bar(s rule.Span, from, to timeline.Time) string {
	first, last := column(s.From, from, to), column(max(s.From, s.To), from, to)
	cells := []rune(strings.Repeat(" ", barWidth))
	if first == last {
		cells[first] = '┃'
		return string(cells)
	}
	for i := first; i <= last; i++ {
		cells[i] = '━'
	}
	cells[first], cells[last] = '┣', '┫'
	return string(cells)
}

// column is where a time stands in a drawing.
func column(t, from, to timeline.Time) int {
	if to <= from {
		return 0
	}
	width := to - from
	if width < barWidth {
		return int(t - from)
	}
	return max(0, min(barWidth-1, int((t-from)/(width/barWidth))))
}
