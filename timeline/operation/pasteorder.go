package operation

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/ordertext"
)

// Pasting are the arguments of a running order that was written elsewhere.
type Pasting struct {
	Text    string
	Choices []ordertext.Choice
}

// Matched finds the songs that the lines mean, for the set of at.
func (p *Pasting) Matched(s *timeline.Show, set timeline.ID) ([]ordertext.Matched, error) {
	lines := ordertext.Read(p.Text)
	if len(lines) == 0 {
		return nil, fmt.Errorf("the text names no song: write one on each line")
	}
	return ordertext.MatchLines(s, s.Set(set), lines, p.Choices...)
}

func pasteOrder() *Operation {
	type A = Pasting
	choose := field.List("choose", "what a line in doubt means: LINE=SONG, or LINE=skip where it is no song", func(a *A) *[]ordertext.Choice { return &a.Choices },
		func(c ordertext.Choice) string { return strconv.Itoa(c.N) + "=" + cmp.Or(string(c.Song), "skip") },
		func(text string) (ordertext.Choice, error) {
			line, song, ok := strings.Cut(text, "=")
			n, err := strconv.Atoi(strings.TrimSpace(line))
			if song = strings.TrimSpace(song); !ok || err != nil || song == "" {
				return ordertext.Choice{}, fmt.Errorf("must be the number of a line and what it means, such as 3=ember or 3=skip")
			}
			if song == "skip" {
				song = ""
			}
			return ordertext.Choice{N: n, Song: timeline.ID(song)}, nil
		})
	text := field.Of("text", "file with a song on each line, or - for standard input", field.TextType, // of many lines
		func(a *A) field.Value { return field.Value{Text: a.Text} }, func(a *A, v field.Value) error { a.Text = v.Text; return nil })
	return does(Operation{Verb: "set", On: "set", Name: "paste", Menu: "Paste running order…", Title: "Running order as text", Button: "Play it", Plays: true,
		Tip:  "reads a running order from the clipboard, finds the songs by name, and plays them in that order; what is in doubt is asked",
		Help: "plays the songs of a text in its order, found by name; - reads standard input. What is in doubt is listed and must be chosen: --choose 3=SONG",
		Args: []Argument{
			{Field: text, Word: "FILE", NoForm: true},
			{Field: choose, Label: "Doubts", Hint: "3=song, or 3=skip", read: readChoice},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			lines, err := a.Matched(at.Show, at.On.ID)
			if err != nil {
				return nil, err
			}
			edit := ordertext.Play(at.On.ID, lines)
			if _, err := at.Show.Edit(edit); err != nil {
				return nil, err // a doubt names an argument
			}
			return edit, nil
		},
		func(_ *timeline.Show, a *A) string {
			return "paste a running order of " + timeline.Counted(len(ordertext.Read(a.Text)), "line")
		})
}

// readChoice finds the song that a line is chosen to mean.
func readChoice(p *timeline.Plan, text string) (field.Value, error) {
	line, song, ok := strings.Cut(text, "=")
	if song = strings.TrimSpace(song); !ok || song == "" || song == "skip" {
		return field.Value{Text: text}, nil
	}
	g, err := p.FindSong(song)
	if err != nil {
		return field.Value{}, err
	}
	return field.Value{Text: strings.TrimSpace(line) + "=" + string(g.ID)}, nil
}

// MatchedTold tells what the lines of a running order mean, those first of which
// something is to be told.
func MatchedTold(s *timeline.Show, lines []ordertext.Matched) Outcome {
	out := Outcome{Columns: columns("#Line", "Text", "Song", "How")}
	for _, first := range []bool{true, false} {
		for i := range lines {
			l := &lines[i]
			plain := l.Match == ordertext.Named
			if plain == first {
				continue
			}
			song, how := "", string(l.Match)
			if l.Song != "" {
				song = s.Song(l.Song).FullTitle()
			}
			switch l.Match {
			case ordertext.Named:
				how = ""
			case ordertext.Alike, ordertext.Doubt:
				how = l.Why
			case ordertext.Told:
				how = "as chosen"
			case ordertext.Skipped:
				how = "left out, as chosen"
			}
			if l.Encore && l.Match != ordertext.Skipped {
				how = strings.TrimPrefix(how+", encore", ", ")
			}
			out.Rows = append(out.Rows, []string{strconv.Itoa(l.N), l.Text, song, how})
		}
	}
	return out
}
