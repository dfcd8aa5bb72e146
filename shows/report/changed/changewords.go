package changed

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// summary says in sentences what matters most: songs, cues, outputs, totals.
func (r *Report) summary() []string {
	list := []string{}
	var all Song
	for i := range r.Songs {
		s := &r.Songs[i]
		if text := s.words(); text != "" {
			list = append(list, fmt.Sprintf("song %q: %s", s.Title, text))
		}
		all.Moved, all.Lost, all.Added, all.Articles = all.Moved+s.Moved, all.Lost+s.Lost, all.Added+s.Added, all.Articles+s.Articles
		all.Aimed, all.Timed = all.Aimed+s.Aimed, all.Timed+s.Timed
	}
	if text := all.cueWords(); text != "" {
		list = append([]string{"in all: " + text}, list...)
	}
	for _, o := range r.Outputs {
		list = append(list, fmt.Sprintf("%s now %s (was %s)", o.Output, o.Is, o.Was))
	}
	for _, t := range r.Totals {
		if t.Was != t.Is {
			list = append(list, fmt.Sprintf("%s %s → %s", t.What, t.Was, t.Is))
		}
	}
	return list
}

// WriteText writes the report for people at a terminal, in sentences; the sheet has
// it in tables.
func (r *Report) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	for _, list := range [][]string{r.Summary, r.nightWords(), r.Records} {
		for _, line := range list {
			fmt.Fprintln(out, line)
		}
	}
	if len(r.Sheets.Changed) > 0 {
		fmt.Fprintf(out, "sheets that look otherwise: %s\n", strings.Join(r.Sheets.Changed, ", "))
	}
	r.Findings.write(out)
	return out.Flush()
}

// nightWords says what the later night does otherwise than the earlier.
func (r *Report) nightWords() []string {
	var list []string
	for _, c := range r.Night {
		list = append(list, wording.JoinGiven(": ", "tonight "+c.Text, c.Reason))
	}
	return list
}

// words says what is otherwise with one song; "" for nothing.
func (s *Song) words() string {
	var parts []string
	switch {
	case s.Was == 0:
		parts = append(parts, fmt.Sprintf("now played as number %d", s.Is))
	case s.Is == 0:
		return "played no more"
	case s.Was != s.Is:
		parts = append(parts, fmt.Sprintf("number %d → %d", s.Was, s.Is))
	}
	if s.Instead != "" {
		parts = append(parts, fmt.Sprintf("in the place of %q", s.Instead))
	}
	if s.Was > 0 && s.StartWas != s.StartIs {
		parts = append(parts, fmt.Sprintf("starts at %s (was %s)", s.StartIs, s.StartWas))
	}
	if text := s.cueWords(); text != "" && s.Was > 0 {
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// cueWords counts a song's cues in words.
func (s *Song) cueWords() string {
	var parts []string
	for _, n := range []struct {
		count int
		words string
	}{{s.Moved, "moved"}, {s.Lost, "lost"}, {s.Added, "added"}, {s.Articles, "with another article"}, {s.Aimed, "on other effects"}, {s.Timed, "commanded or held otherwise"}} {
		if n.count > 0 {
			parts = append(parts, timeline.Counted(n.count, "cue")+" "+n.words)
		}
	}
	return strings.Join(parts, ", ")
}
