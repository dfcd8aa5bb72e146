package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// venues is what the venue verb is asked to do.
type venues struct {
	venue, place, song, from, to, reason, section string
	radius                                        float64
	dry                                           bool
}

var venueActions = []verbAction{
	{"new", "NAME", 1, 1, []string{"place"}},
	{"trim", "METRES", 1, 1, nil},
	{"line", "NAME FROM TO", 3, 3, nil},
	{"performer", "NAME AT", 2, 2, []string{"radius", "song", "from", "to"}},
	{"clear", "NAME AT", 2, 2, []string{"radius", "song", "from", "to"}},
	{"quiet", "NAME", 1, many, []string{"song", "from", "to", "section"}},
	{"ban", "WHAT…", 1, many, nil},
	{"allow", "WHAT…", 1, many, nil},
	{"condition", "TEXT", 1, 1, nil},
	{"distance", "WHOM METRES", 2, many, []string{"reason"}},
	{"back", "ACTION", 1, 2, nil},
}

// venueLists says in which list of a venue an action leaves its mark.
var venueLists = map[string]string{"line": "audience", "performer": "performers", "clear": "clear-zones", "quiet": "quiet-windows", "ban": "banned", "condition": "conditions", "distance": "distances"}

func venueCommand(t *talk) *cobra.Command {
	v := &venues{}
	c := &cobra.Command{
		Use:   "venue SHOW ACTION …",
		Short: "draw a venue's lines and marks, ban, ask for distances",
		Long: `Describe a place the tour plays in, and say which findings of the nights there
come and go. Nothing is assumed about a venue: what is not given is not
compared, and the rule not-checked says so. Places are x,y in metres from the
middle of the stage's front edge, as on the stage plan: left of it and before it
are negative.

  new NAME             a venue; --place says where
  trim METRES          lowest point of roof and rig
  line NAME FROM TO    an audience line: line "front barrier" -12,-3 12,-3
  performer NAME AT    a performer's mark, --radius METRES; with --song it
                       counts in that song alone, --from and --to in seconds
  clear NAME AT        a zone that stays clear, likewise
  quiet NAME family=NAME…   no effects, or none of some families, from --from to
                       --to HH:MM, or in --song and its --section
  ban WHAT…            families and articles that must not be used: a family's
                       name, or article=NAME; allow WHAT… takes them off
  condition TEXT       what the permit demands, in words
  distance WHOM METRES family=NAME|article=NAME…   what it demands to audience,
                       performers or persons; 2x is two fallout radii
  back ACTION [N]      takes back the n-th line, performer, clear, condition …

emberbeat ruleset chooses the rules of the place. All other fields are set with
emberbeat edit SHOW venue:NAME; emberbeat list SHOW fields venue shows them.`,
		Example: `  emberbeat venue tour new "Harbour Green" --place "Lower Quay" --dry-run
  emberbeat venue tour trim 9.5 --dry-run
  emberbeat venue tour line "front barrier" -12,-4 12,-4 --dry-run
  emberbeat venue tour performer dancer 2,3 --radius 1 --song 1 --from 62 --to 80
  emberbeat venue tour ban propane-flame "article=Comet, white, 12 m"`,
		Args:              actionArgs(venueActions),
		ValidArgsFunction: words(nil, func() []string { return actionNames(venueActions) }),
		RunE: func(c *cobra.Command, args []string) error {
			return t.changeLooking(c.Context(), args[0], "venue "+args[1], v.dry, looking{always: true}, func(s *session.Session) (timeline.Edit, error) {
				return v.edit(s.Plan(""), args[1], args[2:])
			})
		},
	}
	f := c.Flags()
	f.StringVar(&v.venue, "venue", "", "the venue, by name or id (default: the only one)")
	f.StringVar(&v.place, "place", "", "new: town, country")
	f.StringVar(&v.song, "song", "", "this song: title, folder, id or number in the running order")
	f.StringVar(&v.from, "from", "", "performer, clear: seconds from the start of the song; quiet: time of day")
	f.StringVar(&v.to, "to", "", "performer, clear: seconds from the start of the song; quiet: time of day")
	f.StringVar(&v.section, "section", "", "quiet: a section of the song, by name or id")
	f.Float64Var(&v.radius, "radius", 0, "performer, clear: metres")
	f.StringVar(&v.reason, "reason", "", "distance: the clause, or who asks for it")
	dryRunFlag(c, &v.dry)
	return c
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

func (v *venues) edit(p *timeline.Plan, action string, args []string) (timeline.Edit, error) {
	if action == "new" {
		venue := timeline.NewVenue(shows.NewIDFor(p.Show, "venue", ""), args[0])
		venue.Place = v.place
		return timeline.AddVenue(venue), nil
	}
	at, err := theVenue(p, v.venue)
	if err != nil {
		return nil, err
	}
	ref := timeline.Ref{Kind: "venue", ID: at.ID}
	switch action {
	case "trim":
		return func(d *timeline.Draft) error { return d.Set(ref, "trim", timeline.Value{Text: args[0]}) }, nil
	case "line":
		var item timeline.Words
		item = append(item, timeline.Word{Key: args[0]}, pairWord("from", args[1]), pairWord("to", args[2]))
		l, err := timeline.ParsePlanLine(item.String())
		return timeline.LineInVenue(at.ID, l), err
	case "performer", "clear":
		m, err := v.mark(p, args[0], args[1])
		if action == "clear" {
			return timeline.ClearInVenue(at.ID, m), err
		}
		return timeline.PerformerInVenue(at.ID, m), err
	case "quiet":
		q, err := v.quiet(p, args[0], args[1:])
		return timeline.QuietInVenue(at.ID, q), err
	case "ban", "allow":
		what, err := banned(p, args)
		if action == "allow" {
			return timeline.AllowInVenue(at.ID, what...), err
		}
		return timeline.BanInVenue(at.ID, what...), err
	case "condition":
		return timeline.ConditionInVenue(at.ID, args[0]), nil
	case "distance":
		d, err := distanceOf(p, args, v.reason)
		return timeline.DistanceInVenue(at.ID, d), err
	}
	field, ok := venueLists[args[0]]
	if !ok {
		return nil, fmt.Errorf("venue back: %q is nothing to take back; write one of line, performer, clear, quiet, ban, condition, distance", args[0])
	}
	return dropItem(ref, field, at, args[1:])
}

func pairWord(key, value string) timeline.Word {
	return timeline.Word{Key: key, Value: strings.TrimSpace(value), Pair: true}
}

// mark reads a circle on the stage plan.
func (v *venues) mark(p *timeline.Plan, name, at string) (timeline.PlanMark, error) {
	item := timeline.Words{{Key: name}, pairWord("at", at), pairWord("radius", strconv.FormatFloat(v.radius, 'f', -1, 64))}
	if v.song != "" {
		song, err := p.FindSong(v.song)
		if err != nil {
			return timeline.PlanMark{}, err
		}
		item = append(item, pairWord("song", string(song.ID)))
	}
	for _, f := range [][2]string{{"from", v.from}, {"to", v.to}} {
		if f[1] != "" {
			item = append(item, pairWord(f[0], f[1]))
		}
	}
	return timeline.ParsePlanMark(item.String())
}

// quiet reads a window without effects.
func (v *venues) quiet(p *timeline.Plan, name string, args []string) (timeline.QuietWindow, error) {
	q := timeline.QuietWindow{Name: name, From: v.from, To: v.to, Section: v.section}
	if v.song != "" {
		song, err := p.FindSong(v.song)
		if err != nil {
			return q, err
		}
		q.Song = song.ID
	}
	for _, text := range args {
		sel, err := p.FindSelector(text)
		if err != nil {
			return q, err
		}
		if sel.What != "family" {
			return q, fmt.Errorf("%q: a quiet window is for all effects, or for family=NAME", text)
		}
		q.Families = append(q.Families, timeline.Family(sel.ID))
	}
	return q, nil
}

// banned reads families, as their names or family=NAME, and articles.
func banned(p *timeline.Plan, args []string) ([]string, error) {
	var list []string
	for _, text := range args {
		if !strings.Contains(text, "=") {
			list = append(list, text)
			continue
		}
		sel, err := p.FindSelector(text)
		switch {
		case err != nil:
			return nil, err
		case sel.What != "family" && sel.What != "article":
			return nil, fmt.Errorf("%q: a venue bans a family, or article=NAME", text)
		}
		list = append(list, sel.ID)
	}
	return list, nil
}
