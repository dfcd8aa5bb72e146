package app

import (
	"fmt"
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// venuesPage is what the page of venues remembers.
type venuesPage struct {
	venue timeline.ID // shown; "" is that of the night in view, or the first
	asks  widget.Selection
}

// shownVenue gives the venue on the page, or nil.
func (a *App) shownVenue() *timeline.Venue {
	w := a.work
	if v := w.shown.Venue(a.places.venue); v != nil {
		return v
	}
	if w.plan.Venue != nil {
		return w.plan.Venue
	}
	if len(w.shown.Venues) > 0 {
		return w.shown.Venues[0]
	}
	return nil
}

// venuePage is the form of one venue.
func (a *App) venuePage(r image.Rectangle) {
	u := a.ui
	k := u.Stack(r, 8)
	a.venueHead(k.Top(widget.RowHeight))
	a.commandButtons(&k, []string{"venue-new", "venue-copy", "venue-remove", "venue-plan", "venue-distance", "venue-distance-drop"})
	v := a.shownVenue()
	if v == nil {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "The show has no venue yet. Nothing is assumed about a place: press "+a.key("row-add")+" to add one and write down what is known of it.")
		return
	}
	a.book.refs = []timeline.Ref{{Kind: "venue", ID: v.ID}}
	caution := "Empty and 0 are \"not given\": nothing is compared with it, and sheets leave a line to write on. Distances are checked as written here; label, permit and authority come first."
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, caution) * 100 / int(u.Scene().Scale)
	u.Paragraph(k.Bottom(h+2), render.TypeSmall, render.InkSecondary, caution)
	high := 24 + widget.RowHeight + widget.LineHeight*max(len(a.venueAskList(v)), 2)
	a.venueAsks(k.Bottom(min(high, k.Rest().Dy()*100/int(u.Scene().Scale)*2/5)), v)
	a.venueForm(k.Rest(), v)
}

// venueHead chooses the venue and says which nights are played there.
func (a *App) venueHead(r image.Rectangle) {
	u, w := a.ui, a.work
	row := u.Stack(r, 8)
	names, at := []string{}, -1
	for i, v := range w.shown.Venues {
		names = append(names, v.Name)
		if v == a.shownVenue() {
			at = i
		}
	}
	why := ""
	if len(names) == 0 {
		why = "the show has no venue yet"
	}
	u.Label(row.Left(46), render.TypeLabel, render.InkSecondary, "Venue")
	if now, changed := u.Off(why).Dropdown("venue", row.Left(280), names, at); changed {
		a.showVenue(w.shown.Venues[now].ID)
	}
	var nights []string
	for _, n := range w.shown.Nights {
		if v := a.shownVenue(); v != nil && n.Venue == v.ID {
			nights = append(nights, n.Name)
		}
	}
	text := "no night is played here"
	if len(nights) > 0 {
		text = "nights: " + strings.Join(nights, ", ")
	}
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, text)
}

func (a *App) showVenue(id timeline.ID) {
	a.places.venue = id
	a.places.asks = widget.Selection{}
	a.again = true
}

// venueNumbers and venueWords are the plain fields of the form, left and right.
var (
	venueNumbers = []string{"name", "place", "trim", "margin", "tolerance", "volume", "air-changes", "wind"}
	venueWords   = []string{"rule-set", "quiet", "conditions", "audience", "performers", "clear-zones", "note"}
)

// venueForm draws the fields of a venue in two columns, and the banned families.
func (a *App) venueForm(r image.Rectangle, v *timeline.Venue) {
	u := a.ui
	kind := timeline.KindOf("venue")
	refs, recs := []timeline.Ref{{Kind: "venue", ID: v.ID}}, []timeline.Record{v}
	families := timeline.Families()
	left := (len(venueNumbers))*(widget.RowHeight+6) + 40 + (len(families)+2)/3*26
	right := 0
	for _, name := range append(slices.Clone(venueWords), a.restOfVenue(kind)...) {
		right += a.fieldHigh(kind.Field(name), v) + 2
	}
	area := u.BeginScroll("form", r, u.Px(max(left, right)+12))
	u.Push(string(v.ID))
	one, two := u.Form(widget.Columns(area, 2, 0, u.Px(20)), 96), u.Form(widget.Columns(area, 2, 1, u.Px(20)), 96)
	for _, name := range venueNumbers {
		a.field(&one, kind, kind.Field(name), refs, recs, -1)
	}
	a.bans(&one, v)
	for _, name := range append(slices.Clone(venueWords), a.restOfVenue(kind)...) {
		if name == "rule-set" {
			a.ruleSetField(two.Row("Rule set"), v)
			continue
		}
		a.field(&two, kind, kind.Field(name), refs, recs, -1)
	}
	u.Pop()
	u.EndScroll()
}

// restOfVenue names the fields that stand nowhere else on the page.
func (a *App) restOfVenue(kind *timeline.Kind) []string {
	var rest []string
	for i := range kind.Fields {
		if name := kind.Fields[i].Name; !slices.Contains(venueNumbers, name) && !slices.Contains(venueWords, name) && name != "banned" && name != "distances" {
			rest = append(rest, name)
		}
	}
	return rest
}

// bans draws a box for each family, and says which single articles are banned.
func (a *App) bans(f *widget.Form, v *timeline.Venue) {
	u := a.ui
	f.Head("Banned here")
	families := timeline.Families()
	u.PushOff(needEdit(a))
	defer u.PopOff()
	for i := 0; i < len(families); i += 3 {
		row := f.Rows("", 20)
		row.Min.X -= u.Px(96)
		for k := range 3 {
			if i+k == len(families) {
				break
			}
			word := string(families[i+k])
			on := slices.Contains(v.Banned, word)
			if now := u.Checkbox("ban "+word, widget.Columns(row, 3, k, u.Px(4)), word, on); now != on {
				a.ban(v, word, now)
			}
		}
	}
	var articles []string
	for _, b := range v.Banned {
		if !slices.Contains(families, timeline.Family(b)) {
			articles = append(articles, a.nameOf([]string{"article"}, "", timeline.ID(b)))
		}
	}
	if len(articles) > 0 {
		u.Label(f.Row("Articles"), render.TypeLabel, render.InkText, strings.Join(articles, ", "))
	}
}

// ban bans a family or allows it again.
func (a *App) ban(v *timeline.Venue, word string, on bool) {
	if on {
		a.do(change{"ban " + word + " at " + v.Name, []timeline.Edit{timeline.BanInVenue(v.ID, word)}})
		return
	}
	a.do(change{"allow " + word + " at " + v.Name, []timeline.Edit{timeline.AllowInVenue(v.ID, word)}})
}

// ruleSetField chooses the rule set that applies: none, one of the show's, or a published one.
func (a *App) ruleSetField(r image.Rectangle, v *timeline.Venue) {
	ids, names := []string{""}, []string{"not given"}
	for _, set := range rule.RuleSets(a.work.shown) {
		ids, names = append(ids, string(set.ID)), append(names, set.Name)
	}
	at := slices.Index(ids, v.RuleSet)
	if set := rule.RuleSetOf(a.work.shown, v); at < 0 && set != nil {
		at = slices.Index(ids, string(set.ID))
	}
	if at < 0 {
		ids, names = append(ids, v.RuleSet), append(names, v.RuleSet+" (not known)")
		at = len(ids) - 1
	}
	if now, changed := a.ui.Off(needEdit(a)).Dropdown("rule-set", r, names, at); changed {
		f := timeline.KindOf("venue").Field("rule-set")
		a.assign(f, []timeline.Ref{{Kind: "venue", ID: v.ID}}, ids[now])
	}
	a.ui.Tip("What it asks for, and its source, stands below; none applies unless it is chosen", "")
}

// ask is a distance that rule set or permit ask for at a venue.
type venueAsk struct {
	by, text, clause, source string
	n                        int // place in the venue's own list, from 1; 0 for the rule set's
}

// venueAskList gives what is asked for at a venue.
func (a *App) venueAskList(v *timeline.Venue) []venueAsk {
	var list []venueAsk
	if set := rule.RuleSetOf(a.work.shown, v); set != nil {
		source := set.Source
		if set.Edition != "" {
			source = set.Edition + "; " + source
		}
		for _, d := range set.Distances {
			list = append(list, venueAsk{"rule set", a.distanceText(d), d.Clause, source, 0})
		}
		if set.Wind > 0 {
			list = append(list, venueAsk{"rule set", fmt.Sprintf("nothing above %g m/s of wind", set.Wind), "", source, 0})
		}
	}
	for i, d := range v.Distances {
		list = append(list, venueAsk{"permit", a.distanceText(d), d.Clause, "written with the venue", i + 1})
	}
	return list
}

// venueAsks lists the distances that are asked for, with their sources.
func (a *App) venueAsks(r image.Rectangle, v *timeline.Venue) {
	u := a.ui
	k := u.Stack(r, 4)
	title := "Distances asked for here: no rule set is chosen"
	if set := rule.RuleSetOf(a.work.shown, v); set != nil {
		title = "Distances asked for here: " + set.Name + ", " + set.Place
		if set.Note != "" {
			title += ". " + set.Note
		}
	}
	u.Label(k.Top(20), render.TypeStrong, render.InkText, title)
	list := a.venueAskList(v)
	spec := widget.TableSpec{Rows: len(list), Empty: "Neither a rule set nor the permit asks for a distance, as far as given: what labels ask for is checked alone. Choose a rule set, or enter the permit's distances.",
		Columns: []widget.Column{{Title: "", Width: 74}, {Title: "What"}, {Title: "Clause", Width: 150}, {Title: "Source", Width: 260}},
		Cell: func(b []byte, row, col int) []byte {
			x := &list[row]
			return append(b, []string{x.by, x.text, x.clause, x.source}[col]...)
		}}
	u.Table("asks", k.Rest(), &a.places.asks, &spec)
}

func needVenue(a *App) string {
	if why := onNights(a); why != "" {
		return why
	}
	if a.shownVenue() == nil {
		return "the show has no venue yet: add one on the page Venues"
	}
	return ""
}

// needPermitAsk says why no distance of the permit can be taken back.
func needPermitAsk(a *App) string {
	if why := needVenue(a); why != "" {
		return why
	}
	list := a.venueAskList(a.shownVenue())
	if i := a.places.asks.Cursor; a.book.at != "venues" || !a.places.asks.Has(i) || i >= len(list) || list[i].n == 0 {
		return "choose a distance of the permit on the page Venues first; a rule set's are changed with the rule set"
	}
	return ""
}

func (a *App) addVenue(v timeline.Venue) {
	if a.do(change{"add venue " + v.Name, []timeline.Edit{timeline.AddVenue(v)}}) {
		a.turn("venues")
		a.showVenue(v.ID)
	}
}

func (a *App) newVenue() {
	a.addVenue(timeline.NewVenue(a.work.ids()("venue", ""), fmt.Sprintf("Venue %d", len(a.work.shown.Venues)+1)))
}

func (a *App) copyVenue() {
	v := *timeline.KindOf("venue").Clone(a.shownVenue()).(*timeline.Venue)
	v.ID, v.Name, v.Slug, v.Kept = a.work.ids()("venue", ""), v.Name+" copy", "", nil
	a.addVenue(v)
}

func (a *App) removeVenue() {
	v := a.shownVenue()
	if a.do(change{"remove venue " + v.Name, []timeline.Edit{func(d *timeline.Draft) error {
		return d.Remove(timeline.Ref{Kind: "venue", ID: v.ID})
	}}}) {
		a.showVenue("")
	}
}

func (a *App) dropAsk() {
	v := a.shownVenue()
	x := a.venueAskList(v)[a.places.asks.Cursor]
	a.do(change{"take back: " + x.text, []timeline.Edit{timeline.DropItem(timeline.Ref{Kind: "venue", ID: v.ID}, "distances", x.n)}})
}

// planVenue shows the venue on the stage plan.
func (a *App) planVenue() {
	a.Turn("stage-plan", timeline.Ref{Kind: "venue", ID: a.shownVenue().ID})
}

// askVenueDistance asks for a distance of the permit of the venue shown.
func (a *App) askVenueDistance(o *operation.Operation) {
	v := a.shownVenue()
	a.askOperation(o, timeline.Ref{Kind: "venue", ID: v.ID}, formSpec{title: o.Title + " at " + v.Name})
}

// venueCommands change venues.
func venueCommands() []command {
	return []command{
		{id: "venue-new", name: "New venue", help: "adds a venue of which nothing is known yet", group: "Book", off: onNights, run: (*App).newVenue},
		{id: "venue-copy", name: "Copy venue", help: "makes a copy of the venue shown", group: "Book", off: needVenue, run: (*App).copyVenue},
		{id: "venue-remove", name: "Remove venue", help: "takes the venue shown out of the show", group: "Book", off: needVenue, run: (*App).removeVenue},
		{id: "venue-plan", name: "On the stage plan", help: "shows the venue's lines, marks and zones on the stage plan, to be drawn there", group: "Book", off: needVenue, run: (*App).planVenue},
		operationCommand("venue", "distance", command{off: needVenue}, (*App).askVenueDistance),
		{id: "venue-distance-drop", name: "Take distance back", help: "takes the chosen distance of the permit out", group: "Book", off: needPermitAsk, run: (*App).dropAsk},
	}
}

// venueActs bind keys of the timeline to the page of venues.
func (a *App) venueActs() map[string]page.Act {
	drop := a.act(needPermitAsk, (*App).dropAsk)
	return map[string]page.Act{"row-add": a.act(onNights, (*App).newVenue), "duplicate": a.act(needVenue, (*App).copyVenue), "row-copy": a.act(needVenue, (*App).copyVenue), "delete": drop, "row-remove": drop}
}
