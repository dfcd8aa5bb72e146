package operation

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// venueOperations describe a place that the tour plays in.
func venueOperations() []*Operation {
	return []*Operation{newVenue(), trim(), line(), performer(), clearZone(), quiet(), ban(), allow(), permitCondition(), venueDistance(), planPicture(), venueBack()}
}

// lists says in which list of a venue an operation leaves its mark.
func lists(o *Operation, list string) *Operation {
	o.list = list
	return o
}

// NewVenue are the arguments of a venue that is made.
type NewVenue struct {
	Name, Place string
	Like        timeline.ID // a venue that it is like in everything else
	ID          timeline.ID // "" is a free one
}

func newVenue() *Operation {
	type A = NewVenue
	return does(Operation{Verb: "venue", Name: "new", Menu: "New venue", Title: "New venue", Button: "Add",
		Tip:  "adds a venue of which nothing is known yet",
		Help: "a venue; --place says where, --like VENUE takes all else from another",
		Args: []Argument{
			{Field: field.Text("name", "what it is called", func(a *A) *string { return &a.Name }), Word: "NAME", Label: "Name"},
			{Field: field.Text("place", "town, country", func(a *A) *string { return &a.Place }), Label: "Place"},
			{Field: id("like", "a venue that it is like in everything else", func(a *A) *timeline.ID { return &a.Like }, "venue"), Label: "Like"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			id := a.ID
			if id == "" {
				id = at.NewID("venue", "")
			}
			v := timeline.NewVenue(id, a.Name)
			if like := at.Show.Venue(a.Like); like != nil {
				v = like.Like(id, a.Name)
			}
			v.Place = cmp.Or(a.Place, v.Place)
			return timeline.AddVenue(v), nil
		},
		func(_ *timeline.Show, a *A) string { return "add venue " + a.Name })
}

func trim() *Operation {
	type A = string
	height := in("m", field.Text("trim", "lowest point of roof and rig above the stage floor", func(text *A) *string { return text }))
	return does(Operation{Verb: "venue", On: "venue", Name: "trim", Menu: "Trim height…", Title: "Trim height", Button: "Enter",
		Tip:  "enters the lowest point of roof and rig of the venue shown, and says first what that comes to",
		Help: "lowest point of roof and rig",
		Args: []Argument{{Field: height, Word: "METRES", Label: "Trim height", Empty: true}}},
		func(at At, text *A) (timeline.Edit, error) {
			return func(d *timeline.Draft) error { return d.Set(at.On, "trim", timeline.Value{Text: *text}) }, nil
		},
		func(s *timeline.Show, text *A) string {
			x, err := units.Metres.Read("m", *text)
			if err != nil {
				return "trim height " + *text
			}
			return "trim height " + s.Told().Say("m", x, -1)
		})
}

// noName is said of what stands on the stage plan without a name.
const noName = "is empty; findings and the stage plan call it by one"

// place is a point on the stage plan.
func place[A any](name, help, word, label string, at func(*A) *string) Argument {
	return Argument{Field: trimmed(field.Text(name, help, at), at), Word: word, Label: label, Hint: "x,y in metres from the middle of the stage's front edge", Need: "is not given; write x,y in metres such as -6.5,2"}
}

// VenueLine are the arguments of an audience line, as they are written.
type VenueLine struct{ Name, From, To string }

func line() *Operation {
	type A = VenueLine
	o := does(Operation{Verb: "venue", On: "venue", Name: "line", Menu: "Audience line…", Title: "Audience line", Button: "Draw",
		Tip:  "draws an audience line or barrier of the venue shown from point to point, in place of one of that name",
		Help: `an audience line: line "front barrier" -12,-3 12,-3`,
		Args: []Argument{
			{Field: field.Text("name", "what it is called", func(a *A) *string { return &a.Name }), Word: "NAME", Label: "Name", Need: noName},
			place("from", "where it begins", "FROM", "From", func(a *A) *string { return &a.From }),
			place("to", "where it ends", "TO", "To", func(a *A) *string { return &a.To }),
		}},
		func(at At, a *A) (timeline.Edit, error) {
			l, err := timeline.ParsePlanLine(timeline.Words{{Key: a.Name}, pair("from", a.From), pair("to", a.To)}.String())
			return timeline.LineInVenue(at.On.ID, l), err
		},
		func(_ *timeline.Show, a *A) string { return fmt.Sprintf("audience line %q", a.Name) })
	return lists(o, "audience")
}

func pair(key, value string) timeline.Word { return timeline.Word{Key: key, Value: value, Pair: true} }

// VenueMark are the arguments of a circle on the stage plan, as they are
// written. Where a song is named it counts in that song alone.
type VenueMark struct {
	Name, At string
	Radius   float64 // metres
	Song     timeline.ID
	From, To string // seconds from the start of the song
}

// plan gives the mark itself.
func (a *VenueMark) plan() (timeline.PlanMark, error) {
	item := timeline.Words{{Key: a.Name}, pair("at", a.At), pair("radius", field.FormatNumber(a.Radius))}
	for _, x := range [][2]string{{"song", string(a.Song)}, {"from", a.From}, {"to", a.To}} {
		if x[1] != "" {
			item = append(item, pair(x[0], x[1]))
		}
	}
	return timeline.ParsePlanMark(item.String())
}

// marks completes an operation that sets a circle on the stage plan.
func marks(o Operation, what string, edit func(timeline.ID, timeline.PlanMark) timeline.Edit) *Operation {
	type A = VenueMark
	const seconds = "seconds from the start of the song"
	time := func(name, label string, at func(*A) *string) Argument {
		return Argument{Field: trimmed(in("s", field.Text(name, seconds, at)), at), Label: label}
	}
	o.Args = []Argument{
		{Field: field.Text("name", "what it is called", func(a *A) *string { return &a.Name }), Word: "NAME", Label: "Name", Need: noName},
		place("at", "where it is", "AT", "At", func(a *A) *string { return &a.At }),
		// Which radius is none the plan says.
		{Field: field.Number("radius", "m", "metres", -math.MaxFloat64, math.MaxFloat64, func(a *A) *float64 { return &a.Radius }), Label: "Radius"},
		{Field: id("song", "the song it counts in; none is all", func(a *A) *timeline.ID { return &a.Song }, "song"), Label: "Song"},
		time("from", "From", func(a *A) *string { return &a.From }),
		time("to", "To", func(a *A) *string { return &a.To }),
	}
	return does(o,
		func(at At, a *A) (timeline.Edit, error) {
			m, err := a.plan()
			return edit(at.On.ID, m), err
		},
		func(s *timeline.Show, a *A) string {
			text := fmt.Sprintf("%s %q", what, a.Name)
			if a.Song != "" {
				text += " in " + s.Named("song", a.Song)
			}
			return text
		})
}

func performer() *Operation {
	return lists(marks(Operation{Verb: "venue", On: "venue", Name: "performer", Menu: "Performer's mark…", Title: "Performer's mark", Button: "Set",
		Tip:  "sets a performer's mark of the venue shown, always or in one song, in place of one of that name",
		Help: "a performer's mark, --radius METRES; with --song it counts in that song alone, --from and --to in seconds"},
		"performer's mark", timeline.PerformerInVenue), "performers")
}

func clearZone() *Operation {
	return lists(marks(Operation{Verb: "venue", On: "venue", Name: "clear", Menu: "Clear zone…", Title: "Zone that stays clear", Button: "Set",
		Tip:  "sets a zone of the venue shown that stays clear, always or in one song, in place of one of that name",
		Help: "a zone that stays clear, likewise"},
		"clear zone", timeline.ClearInVenue), "clear-zones")
}

func quiet() *Operation {
	type A = timeline.QuietWindow
	families := field.List("families", "families that are not used; none is every effect", func(q *A) *[]timeline.Family { return &q.Families },
		func(f timeline.Family) string { return "family=" + string(f) },
		func(s string) (timeline.Family, error) { return timeline.Family(strings.TrimPrefix(s, "family=")), nil })
	families.Ref = []string{"family"}
	text := func(name, help, label, hint string, at func(*A) *string) Argument {
		return Argument{Field: trimmed(field.Text(name, help, at), at), Label: label, Hint: hint}
	}
	o := does(Operation{Verb: "venue", On: "venue", Name: "quiet", Menu: "Quiet window…", Title: "Window without effects", Button: "Enter",
		Tip:  "enters when there are no effects at the venue shown, or none of some families: by the time of day, or in a song",
		Help: "no effects, or none of some families, from --from to --to HH:MM, or in --song and its --section; beside the windows that are there",
		Args: []Argument{
			{Field: field.Text("name", "what it is called", func(q *A) *string { return &q.Name }), Word: "NAME", Label: "Name", Need: "is empty; findings and sheets call it by one"},
			{Field: families, Word: "family=NAME…", Optional: true, Label: "Families", Hint: "every effect where none is chosen", Kinded: true, read: readFamily, offer: offerFamilies},
			text("from", "time of day", "From", "22:30", func(q *A) *string { return &q.From }),
			text("to", "time of day", "To", "23:30", func(q *A) *string { return &q.To }),
			{Field: id("song", "the song, in place of a time of day", func(q *A) *timeline.ID { return &q.Song }, "song"), Label: "Song"},
			text("section", "a section of the song, by name or id", "Section", "all of the song", func(q *A) *string { return &q.Section }),
		}},
		func(at At, q *A) (timeline.Edit, error) { return timeline.QuietInVenue(at.On.ID, *q), nil },
		func(_ *timeline.Show, q *A) string { return fmt.Sprintf("quiet window %q", q.Name) })
	return lists(o, "quiet-windows")
}

func readFamily(p *timeline.Plan, text string) (field.Value, error) {
	sel, err := p.FindSelector(text)
	if err == nil && sel.What != "family" {
		err = fmt.Errorf("%q: a quiet window is for all effects, or for family=NAME", text)
	}
	return field.Value{Text: sel.What + "=" + sel.ID}, err
}

func offerFamilies(*timeline.Show) []Offer {
	var list []Offer
	for _, f := range timeline.Families() {
		list = append(list, Offer{"family=" + string(f), string(f)})
	}
	return list
}

// Banned are families, by their names, and articles, by their ids.
type Banned []string

// bans completes an operation about what must not be used at a venue.
func bans(o Operation, word string, edit func(timeline.ID, ...string) timeline.Edit, offer func(*timeline.Show) []Offer) *Operation {
	type A = Banned
	what := field.List("what", "families, by name, and articles", func(b *A) *[]string { return (*[]string)(b) }, func(s string) string { return s }, func(s string) (string, error) { return s, nil })
	what.Ref = []string{"family", "article"}
	o.Args = []Argument{{Field: what, Word: "WHAT…", Label: "What", Hint: "there is nothing to choose", read: readBanned, offer: offer}}
	return does(o,
		func(at At, b *A) (timeline.Edit, error) { return edit(at.On.ID, *b...), nil },
		func(s *timeline.Show, b *A) string {
			var names []string
			for _, w := range *b {
				names = append(names, BannedName(s, w))
			}
			return word + " " + strings.Join(names, ", ")
		})
}

// BannedName names what a venue bans: a family, or an article by its id.
func BannedName(s *timeline.Show, what string) string {
	if slices.Contains(timeline.Families(), timeline.Family(what)) {
		return what
	}
	return s.Named("article", timeline.ID(what))
}

// readBanned reads a family, as its name or family=NAME, or an article. What is
// neither the edit refuses.
func readBanned(p *timeline.Plan, text string) (field.Value, error) {
	if !strings.Contains(text, "=") {
		return field.Value{Text: text}, nil
	}
	sel, err := p.FindSelector(text)
	if err == nil && sel.What != "family" && sel.What != "article" {
		err = fmt.Errorf("%q: a venue bans a family, or article=NAME", text)
	}
	return field.Value{Text: sel.ID}, err
}

func ban() *Operation {
	o := bans(Operation{Verb: "venue", On: "venue", Name: "ban", Menu: "Ban…", Title: "Ban at the venue", Button: "Ban",
		Tip:  "bans families and articles at the venue shown, and says first what that comes to",
		Help: "families and articles that must not be used: a family's name, or article=NAME; allow WHAT… takes them off"},
		"ban", timeline.BanInVenue, offerEffects)
	return lists(o, "banned")
}

func allow() *Operation {
	return bans(Operation{Verb: "venue", On: "venue", Name: "allow", ToldBy: "ban", Menu: "Allow again…", Title: "Allow again at the venue", Button: "Allow",
		Tip:  "takes families and articles off the ban of the venue shown",
		Help: "takes families and articles off the ban"},
		"allow", timeline.AllowInVenue, offerEffects)
}

// offerEffects lists every family and every article of the stock.
func offerEffects(s *timeline.Show) []Offer {
	var list []Offer
	for _, f := range timeline.Families() {
		list = append(list, Offer{string(f), string(f)})
	}
	for _, a := range s.Stock.Articles {
		list = append(list, Offer{"article=" + string(a.ID), a.Name})
	}
	return list
}

func permitCondition() *Operation {
	type A = string
	self := func(text *A) *string { return text }
	o := does(Operation{Verb: "venue", On: "venue", Name: "condition", Menu: "Permit's condition…", Title: "Condition of the permit", Button: "Enter",
		Tip:  "enters a condition of the permit of the venue shown",
		Help: "what the permit demands, in words",
		Args: []Argument{{Field: trimmed(field.Text("text", "no rule reads it; it stands on the sheets", self), self), Word: "TEXT", Label: "Condition", Hint: "in the permit's words"}}},
		func(at At, text *A) (timeline.Edit, error) { return timeline.ConditionInVenue(at.On.ID, *text), nil },
		func(_ *timeline.Show, text *A) string { return "condition: " + *text })
	return lists(o, "conditions")
}

func venueDistance() *Operation {
	o := asksDistance(Operation{Verb: "venue", On: "venue", Name: "distance", Menu: "Permit's distance…", Title: "Distance the permit asks for", Button: "Enter",
		Tip: "enters a distance that the permit of the venue shown asks for"},
		clause("reason", "the clause, or who asks for it", clauseOf),
		func(at At, d timeline.Distance) timeline.Edit { return timeline.DistanceInVenue(at.On.ID, d) })
	return lists(o, "distances")
}
