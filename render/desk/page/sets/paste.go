package sets

import (
	"errors"
	"fmt"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/ordertext"
)

// askPaste reads the running order that the clipboard holds, and asks what its lines in doubt mean.
func (p *Sets) askPaste(o *operation.Operation) {
	args := operation.Pasting{Text: p.h.UI().Clip.Read()}
	lines, err := args.Matched(p.h.Show(), p.Shown().ID)
	if err != nil {
		p.h.Tell("the clipboard holds no running order: copy one first, with a song on each line")
		return
	}
	named := 0
	var told []string
	for i := range lines {
		switch l := &lines[i]; l.Match {
		case ordertext.Named:
			named++
		case ordertext.Alike:
			told = append(told, fmt.Sprintf("Line %d, %q: %s.", l.N, l.Text, l.Why))
		}
	}
	f := page.Form{
		About: fmt.Sprintf("%s from the clipboard, %d named as a song is called. What is in doubt has to be chosen; songs that are not named stay in the set, left out.", timeline.Counted(len(lines), "line"), named),
		Begin: func(x any) { x.(*operation.Pasting).Text = args.Text },
		Lines: told,
	}
	f.Offer = func(err error) *page.Offer {
		var d *ordertext.DoubtError
		if !errors.As(err, &d) {
			return nil
		}
		l := &d.Lines[0]
		value, label := "skip", fmt.Sprintf("Line %d is no song", l.N)
		if len(l.Offers) > 0 {
			song := p.h.Show().Song(l.Offers[0])
			value, label = song.Slug, fmt.Sprintf("Line %d is %s", l.N, song.FullTitle())
		}
		var list []string
		for _, c := range append(d.Chosen, ordertext.Choice{N: l.N}) {
			song := value
			if c.N != l.N {
				song = "skip"
				if c.Song != "" {
					song = p.h.Show().Song(c.Song).Slug
				}
			}
			list = append(list, fmt.Sprintf("%d=%s", c.N, song))
		}
		return &page.Offer{Label: label, Texts: map[string]string{"choose": strings.Join(list, "; ")}}
	}
	p.h.AskFor(o, p.on(), f)
}
