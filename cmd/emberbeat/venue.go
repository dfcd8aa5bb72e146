package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/picture"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// venues is what the venue verb is asked to do, besides its operation.
type venues struct {
	venue string
	dry   bool
}

func venueCommand(t *talk) *cobra.Command {
	w, v := &venues{}, operatedBy("venue")
	c := &cobra.Command{
		Use:   "venue SHOW ACTION …",
		Short: "draw a venue's lines and marks, ban, ask for distances",
		Long: `Describe a place the tour plays in, and say which findings of the nights there
come and go. Nothing is assumed about a venue: what is not given is not
compared, and the rule not-checked says so. Places are x,y in metres from the
middle of the stage's front edge, as on the stage plan: left of it and before it
are negative.

` + v.help() + `

emberbeat ruleset chooses the rules of the place. All other fields are set with
emberbeat edit SHOW venue:NAME; emberbeat list SHOW fields venue shows them.`,
		Example: `  emberbeat venue tour new "Harbour Green" --place "Lower Quay" --dry-run
  emberbeat venue tour trim 9.5 --dry-run
  emberbeat venue tour line "front barrier" -12,-4 12,-4 --dry-run
  emberbeat venue tour performer dancer 2,3 --radius 1 --song 1 --from 62 --to 80
  emberbeat venue tour picture hall.png --at 120,340=-6,0 --at 820,340=6,0 --dry-run
  emberbeat venue tour ban propane-flame "article=Comet, white, 12 m"`,
		Args:              actionArgs(v.actions()),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			look := looking{always: true}
			if args[1] == "picture" && !w.dry {
				look.told = func(_ *timeline.Plan, values any, _ operation.Outcome) error {
					return keepPicture(c.Context(), args[0], values.(*operation.VenuePicture))
				}
			}
			return t.operate(c, v, args, w.dry, look, w.on)
		},
	}
	c.Flags().StringVar(&w.venue, "venue", "", "the venue, by name or id (default: the only one)")
	new(choice).songFlag(c)
	v.flags(c)
	dryRunFlag(c, &w.dry)
	return c
}

// keepPicture puts the picture of an operation into the show's folder, before the
// venue names it.
func keepPicture(ctx context.Context, dir string, a *operation.VenuePicture) error {
	if a.File == "" || a.Off {
		return nil
	}
	pic, err := picture.ReadFile(ctx, a.File, a.Page)
	if err != nil {
		return err
	}
	return fileFailure(pic.Keep(dir))
}

// on finds the venue that is changed.
func (w *venues) on(s *session.Session, o *operation.Operation) (*timeline.Plan, timeline.Ref, error) {
	p := s.Plan("")
	if o.Name == "new" {
		return p, timeline.Ref{}, nil
	}
	v, err := theVenue(p, w.venue)
	if err != nil {
		return nil, timeline.Ref{}, err
	}
	return p, timeline.Ref{Kind: "venue", ID: v.ID}, nil
}

// theVenue finds the venue that is changed; where there is one only, that one.
func theVenue(p *timeline.Plan, name string) (*timeline.Venue, error) {
	if name == "" && len(p.Show.Venues) == 1 {
		return p.Show.Venues[0], nil
	}
	if name == "" {
		var names []string
		for _, v := range p.Show.Venues {
			names = append(names, strconv.Quote(v.Name))
		}
		if len(names) == 0 {
			return nil, hint(usage(fmt.Errorf("the show has no venues yet")), "emberbeat venue SHOW new NAME makes one")
		}
		return nil, fmt.Errorf("no venue is chosen; add --venue with one of %s", strings.Join(names, ", "))
	}
	ref, err := p.FindRecord("venue:" + name)
	return p.Show.Venue(ref.ID), err
}
