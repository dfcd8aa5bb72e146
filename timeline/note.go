package timeline

import "emberbeat/timeline/field"

// Note is what somebody of the crew wrote at a moment of a song: it is neither
// played nor checked, and stays until it is done.
type Note struct {
	Base
	Text     string
	At       Moment
	By       string // who wrote it; "" = not said
	Revision string // of the page that it was written on
	Page     string // hash of that page
	Done     bool
}

// Said writes a note as it is read at its place: open or done, its words, who wrote
// it and on which revision.
func (n *Note) Said() string {
	text := "open: "
	if n.Done {
		text = "done: "
	}
	text += n.Text
	from := n.By
	if n.Revision != "" {
		if from != "" {
			from += ", "
		}
		from += "revision " + n.Revision
	}
	if from != "" {
		text += " (" + from + ")"
	}
	return text
}

func init() {
	registerInSong("note", "notes", "what somebody of the crew wrote at a moment of a song",
		func(s *Song) *[]*Note { return &s.Notes },
		momentField("at", "where it stands", func(n *Note) *Moment { return &n.At }),
		field.Text("text", "the words", func(n *Note) *string { return &n.Text }),
		field.Text("by", "who wrote it", func(n *Note) *string { return &n.By }),
		field.Text("revision", "of the crew page that it was written on", func(n *Note) *string { return &n.Revision }),
		field.Text("page", "hash of that page", func(n *Note) *string { return &n.Page }),
		field.Flag("done", "it has been dealt with", func(n *Note) *bool { return &n.Done }),
	)
}
