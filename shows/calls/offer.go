package calls

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Offer is what a night's log offers to be entered after its show. Nothing of it is
// known to be so: it was marked by somebody who watched.
type Offer struct {
	Lines   []string `json:"lines"`   // holds and missed cues, in order
	Unfired []string `json:"unfired"` // outputs of missed cues whose load would have been used up, and of which nothing is entered: bank-a:7
}

// Of gives the offer of a log for the plan of its night.
func Of(p *timeline.Plan, log []Entry) *Offer {
	o := &Offer{Lines: []string{}, Unfired: []string{}}
	back := map[key]bool{} // of the last word about each cue
	for _, e := range log {
		switch e.Kind {
		case Missed:
			back[e.key()] = false
		case Back:
			back[e.key()] = true
		}
	}
	said := map[key]bool{}
	for _, e := range log {
		switch {
		case e.Kind == Hold:
			o.Lines = append(o.Lines, fmt.Sprintf("held in %s at %s", e.Title, e.place()))
		case e.Kind == Release:
			o.Lines = append(o.Lines, fmt.Sprintf("released in %s at %s", e.Title, e.place()))
		case e.Kind == Missed && !back[e.key()] && !said[e.key()]:
			said[e.key()] = true
			o.missed(p, &e)
		}
	}
	return o
}

type key struct{ song, cue timeline.ID }

func (e *Entry) key() key { return key{e.Song, e.Cue} }

func (e *Entry) place() string {
	if e.Bar != "" {
		return e.Bar + " (" + e.At + ")"
	}
	return e.At
}

// missed adds a cue that was marked missed.
func (o *Offer) missed(p *timeline.Plan, e *Entry) {
	var names []string
	for _, load := range e.Loads {
		at, err := p.FindOutput(load)
		switch {
		case err != nil:
			names = append(names, load+", which is not in the show any more")
		case !slices.Contains(o.Unfired, at.String()) && !entered(p, at):
			o.Unfired = append(o.Unfired, at.String())
			names = append(names, p.Show.CalledOutput(at))
		}
	}
	text := fmt.Sprintf("marked missed in %s at %s: %s", e.Title, e.place(), e.Name)
	if len(names) > 0 {
		text += ", loaded at " + strings.Join(names, ", ")
	}
	o.Lines = append(o.Lines, text)
}

// entered reports whether it is entered already what became of an output.
func entered(p *timeline.Plan, at timeline.OutputRef) bool {
	return p.Night != nil && slices.ContainsFunc(p.Night.Outcomes, func(o timeline.Outcome) bool { return o.Driver == at.Driver && o.Output == at.Output })
}

// Text writes the offered outputs as the form of the operation takes them.
func (o *Offer) Text() string { return strings.Join(o.Unfired, "; ") }

// WriteText writes the offer for people, with the flags that would enter it. It
// writes nothing where there is none.
func (o *Offer) WriteText(w io.Writer) error {
	if o == nil {
		return nil
	}
	text := "marked in the calling view:\n"
	for _, l := range o.Lines {
		text += "  " + l + "\n"
	}
	if len(o.Unfired) > 0 {
		text += "look at these outputs; where it is so, enter them with:"
		for _, at := range o.Unfired {
			text += " --unfired " + at
		}
		text += "\n"
	}
	_, err := io.WriteString(w, text)
	return err
}
