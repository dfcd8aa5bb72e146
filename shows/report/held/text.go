package held

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

// WriteJSON writes the report as one JSON object.
func (r *Report) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, r) }

// shown is how many differences of a kind have a line of their own where they are
// grouped.
const shown = 3

// WriteText writes the report for people: what is off as a whole, then what
// differs, worst first, the first few of each kind, then the counts and the caution.
func (r *Report) WriteText(w io.Writer) error { return r.write(w, shown) }

// WriteEach is WriteText with a line for each difference.
func (r *Report) WriteEach(w io.Writer) error { return r.write(w, len(r.Differences)) }

func (r *Report) write(w io.Writer, most int) error {
	out := bufio.NewWriter(w)
	for _, line := range r.Whole() {
		fmt.Fprintln(out, line)
	}
	for _, k := range Kinds() {
		of := r.Of(k)
		for i := range of {
			if i == most && len(of) > most+1 {
				fmt.Fprintf(out, "  %d more of %d: %s%s (--each: a line for each)\n", len(of)-most, len(of), k, songsOf(of))
				break
			}
			fmt.Fprintln(out, of[i].line())
		}
	}
	for _, line := range r.Counts() {
		fmt.Fprintln(out, line)
	}
	fmt.Fprintln(out, report.CautionLine)
	return out.Flush()
}

// line says a difference in a line of its own.
func (d *Difference) line() string {
	text := string(d.Kind) + ": " + d.Says()
	if d.Line > 0 {
		text = fmt.Sprintf("line %d: %s", d.Line, text)
	}
	return text
}

// Of gives the differences of a kind.
func (r *Report) Of(k Kind) []Difference {
	var list []Difference
	for i := range r.Differences {
		if r.Differences[i].Kind == k {
			list = append(list, r.Differences[i])
		}
	}
	return list
}

// songsOf says in which songs differences are.
func songsOf(list []Difference) string {
	var numbers []int
	for i := range list {
		if n := list[i].SongNumber; n > 0 && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	switch len(numbers) {
	case 0:
		return ""
	case 1:
		return " in song " + strconv.Itoa(numbers[0])
	}
	return " in songs " + wording.Runs(numbers)
}

// Whole says what is true of songs as a whole, or of all.
func (r *Report) Whole() []string {
	var list []string
	for _, o := range r.Offsets {
		what := "the whole list"
		if o.Song != "" {
			what = fmt.Sprintf("song %d %q", o.SongNumber, o.SongTitle)
		}
		list = append(list, fmt.Sprintf("%s is %s in the list (%s stand just so far off): it is compared as if it were not", what, o.far(), timeline.Counted(o.Rows, "row")))
	}
	return append(list, r.absent()...)
}

// far says how far an offset is: "1:00:00.0 later", "2 frames earlier".
func (o *Offset) far() string {
	way, frames, secs := "later", o.Frames, o.Seconds
	if frames < 0 {
		way, frames, secs = "earlier", -frames, -secs
	}
	text := timeline.Counted(int(frames), "frame")
	if timeline.Time(secs) >= timeline.Second {
		text += " or " + wording.Clock(secs) + " of the clock"
	}
	return text + " " + way
}

// Counts says how many rows were read and compared with how many commands, what
// differs, and what was not compared and why.
func (r *Report) Counts() []string {
	against := fmt.Sprintf("%s against %s", timeline.Counted(r.Compared, "row"), timeline.Counted(r.Commands, "command"))
	head := "no difference was found in " + against
	if len(r.Differences) > 0 {
		var parts []string
		for _, k := range Kinds() {
			if n := len(r.Of(k)); n > 0 {
				parts = append(parts, fmt.Sprintf("%d %s", n, k))
			}
		}
		head = fmt.Sprintf("%s in %s: %s", timeline.Counted(len(r.Differences), "difference"), against, strings.Join(parts, ", "))
	} else if len(r.Offsets) > 0 {
		head = "no difference but the offset was found in " + against
	}
	list := []string{head, "read: " + timeline.Counted(r.Read, "row") + " of " + r.List + r.leftOut()}
	list = append(list, "order: "+r.Order)
	var parts []string
	for _, n := range r.NotCompared {
		parts = append(parts, fmt.Sprintf("%s: %d", n.Why, n.Count))
	}
	parts = append(parts, "how long an output is open, how high an effect is, and what the desk does beside this list")
	return append(list, "what was not compared: "+strings.Join(parts, "; "))
}

func (r *Report) leftOut() string {
	var parts []string
	for _, n := range r.LeftOut {
		lines := make([]string, len(n.Lines))
		for i, l := range n.Lines {
			lines[i] = strconv.Itoa(l)
		}
		more := ""
		if n.Count > len(n.Lines) {
			more = " …"
		}
		parts = append(parts, fmt.Sprintf("%d left out, %s (line %s%s)", n.Count, n.Why, strings.Join(lines, ", "), more))
	}
	return wording.Prefixed("; ", strings.Join(parts, "; "))
}
