package timeline

import (
	"fmt"
	"strings"
)

// Anchor pins a place in bars and beats to a time from the start of the song.
// A beat map is a list of them.
type Anchor struct {
	Bar   int
	Beat  Rat // beats after the start of the bar, from 0
	At    Time
	Metre Metre // from this bar on; zero means unchanged
}

// anchorHelp ends every error about the text of an anchor.
const anchorHelp = "write bar.beat, time in seconds and, where it changes, metre: 17.1 at=32.512345 metre=4/4"

// ParseAnchor reads `17.1 at=32.512345 metre=4/4`; the metre may be left out.
func ParseAnchor(s string) (Anchor, error) {
	place, rest, ok := strings.Cut(s, " at=")
	if !ok {
		return Anchor{}, fmt.Errorf("anchor %s cannot be read: %s", quoted(s), anchorHelp)
	}
	at, metreText, hasMetre := strings.Cut(rest, " metre=")
	bar, errBar := ParseBarBeat(place)
	t, errAt := ParseTime(at)
	var metre Metre
	var errMetre error
	if hasMetre {
		metre, errMetre = ParseMetre(metreText)
	}
	for _, err := range []error{errBar, errAt, errMetre} {
		if err != nil {
			return Anchor{}, fmt.Errorf("anchor %s: %w", quoted(s), err)
		}
	}
	return Anchor{bar.Bar, bar.Beat, t, metre}, nil
}

// Place returns the anchor's bar and beat.
func (a Anchor) Place() BarBeat { return BarBeat{a.Bar, a.Beat} }

// String returns the canonical text that ParseAnchor reads. The time has six
// digits, or nine where six would move the anchor.
func (a Anchor) String() string {
	s := a.Place().String() + " at=" + a.timeText()
	if !a.Metre.IsZero() {
		s += " metre=" + a.Metre.String()
	}
	return s
}

func (a Anchor) timeText() string {
	six := a.At.Text(6)
	if t, err := ParseTime(six); err == nil && t == a.At {
		return six
	}
	return a.At.Text(maxDigits)
}
