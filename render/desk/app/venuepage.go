package app

import (
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
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
	a.commandButtons(&k, []string{"venue-new", "venue-copy", "venue-remove", "venue-plan", "venue-line", "venue-performer", "venue-clear", "venue-quiet", "venue-ban", "venue-condition", "venue-distance", "venue-distance-drop", "venue-back"})
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
	name := "allow"
	if on {
		name = "ban"
	}
	a.doOperation(operation.Find("venue", name), timeline.Ref{Kind: "venue", ID: v.ID}, &operation.Banned{word})
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
		a.doOperation(operation.Find("ruleset", "choose"), timeline.Ref{Kind: "venue", ID: v.ID}, &operation.Chosen{ID: timeline.ID(ids[now])})
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

func (a *App) newVenue() {
	x := operation.NewVenue{Name: fmt.Sprintf("Venue %d", len(a.work.shown.Venues)+1), ID: a.work.ids()("venue", "")}
	if a.doOperation(operation.Find("venue", "new"), timeline.Ref{}, &x) {
		a.turn("venues")
		a.showVenue(x.ID)
	}
}

func (a *App) copyVenue() {
	v := *timeline.KindOf("venue").Clone(a.shownVenue()).(*timeline.Venue)
	v.ID, v.Name, v.Slug, v.Kept = a.work.ids()("venue", ""), v.Name+" copy", "", nil
	if a.do(change{"add venue " + v.Name, []timeline.Edit{timeline.AddVenue(v)}}) {
		a.turn("venues")
		a.showVenue(v.ID)
	}
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
	n := a.venueAskList(v)[a.places.asks.Cursor].n
	a.doOperation(operation.Find("venue", "back"), timeline.Ref{Kind: "venue", ID: v.ID}, &operation.Back{Name: "distance", N: &n})
}

// planVenue shows the venue on the stage plan.
func (a *App) planVenue() {
	a.Turn("stage-plan", timeline.Ref{Kind: "venue", ID: a.shownVenue().ID})
}

// askVenue asks for an operation on the venue shown.
func (a *App) askVenue(o *operation.Operation) { a.askVenueWith(o, formSpec{}) }

func (a *App) askVenueWith(o *operation.Operation, spec formSpec) {
	v := a.shownVenue()
	spec.title = o.Title + " at " + v.Name
	a.askOperation(o, timeline.Ref{Kind: "venue", ID: v.ID}, spec)
}

// askTrim asks for another trim height.
func (a *App) askTrim(o *operation.Operation) {
	a.askVenueWith(o, formSpec{given: map[string]string{"trim": field.FormatNumber(a.shownVenue().Trim)}})
}

// askRuleSet asks which rule set is to apply.
func (a *App) askRuleSet(o *operation.Operation) {
	given := map[string]string{}
	if set := rule.RuleSetOf(a.work.shown, a.shownVenue()); set != nil {
		given["id"] = string(set.ID)
	}
	a.askVenueWith(o, formSpec{given: given})
}

// askAllowed asks for what is banned and is to be allowed.
func (a *App) askAllowed(o *operation.Operation) {
	a.askVenueWith(o, formSpec{choices: map[string]func(*App) []formValue{"what": func(a *App) []formValue {
		var list []formValue
		for _, b := range a.shownVenue().Banned {
			list = append(list, formValue{b, operation.BannedName(a.work.shown, b)})
		}
		return list
	}}})
}

// askVenueBack asks what is to be taken back of all that is written down of the venue.
func (a *App) askVenueBack(o *operation.Operation) {
	a.askVenueWith(o, formSpec{choices: map[string]func(*App) []formValue{"action": func(a *App) []formValue {
		var list []formValue
		for _, i := range operation.VenueItems(a.shownVenue()) {
			text := i.Text
			if i.Op.Name == "ban" {
				text = operation.BannedName(a.work.shown, text)
			}
			list = append(list, formValue{i.Op.Name + " " + strconv.Itoa(i.N), i.Op.Name + ": " + text})
		}
		return list
	}}})
}

// askOwnRuleSet asks for a distance of one of the show's own rule sets.
func (a *App) askOwnRuleSet(o *operation.Operation) {
	a.askOperation(o, timeline.Ref{}, formSpec{choices: map[string]func(*App) []formValue{"id": func(a *App) []formValue {
		var list []formValue
		for _, set := range a.work.shown.RuleSets {
			list = append(list, formValue{string(set.ID), set.Name})
		}
		return list
	}}})
}

// needOwnRuleSet says why no distance can be entered into a rule set.
func needOwnRuleSet(a *App) string {
	if why := onNights(a); why != "" {
		return why
	}
	if len(a.work.shown.RuleSets) == 0 {
		return "the show has no rule set of its own: make one, or copy a published one"
	}
	return ""
}

func needVenueItem(a *App) string {
	if why := needVenue(a); why != "" {
		return why
	}
	if len(operation.VenueItems(a.shownVenue())) == 0 {
		return "nothing is written down of the venue that could be taken back"
	}
	return ""
}

func needBan(a *App) string {
	if why := needVenue(a); why != "" {
		return why
	}
	if len(a.shownVenue().Banned) == 0 {
		return "nothing is banned at the venue"
	}
	return ""
}

// venueCommands change venues, and the rule sets that apply there.
func venueCommands() []command {
	at := func(name string, off func(*App) string, ask func(*App, *operation.Operation)) command {
		return operationCommand("venue", name, command{off: off}, ask)
	}
	set := func(name string, off func(*App) string, ask func(*App, *operation.Operation)) command {
		return operationCommand("ruleset", name, command{off: off}, ask)
	}
	plain := func(a *App, o *operation.Operation) { a.askOperation(o, timeline.Ref{}, formSpec{}) }
	return []command{
		at("new", onNights, func(a *App, _ *operation.Operation) { a.newVenue() }),
		{id: "venue-copy", name: "Copy venue", help: "makes a copy of the venue shown", group: "Book", off: needVenue, run: (*App).copyVenue},
		{id: "venue-remove", name: "Remove venue", help: "takes the venue shown out of the show", group: "Book", off: needVenue, run: (*App).removeVenue},
		{id: "venue-plan", name: "On the stage plan", help: "shows the venue's lines, marks and zones on the stage plan, to be drawn there", group: "Book", off: needVenue, run: (*App).planVenue},
		at("trim", needVenue, (*App).askTrim),
		at("line", needVenue, (*App).askVenue),
		at("performer", needVenue, (*App).askVenue),
		at("clear", needVenue, (*App).askVenue),
		at("quiet", needVenue, (*App).askVenue),
		at("ban", needVenue, (*App).askVenue),
		at("allow", needBan, (*App).askAllowed),
		at("condition", needVenue, (*App).askVenue),
		at("distance", needVenue, (*App).askVenue),
		{id: "venue-distance-drop", name: "Take distance back", help: "takes the chosen distance of the permit out", group: "Book", off: needPermitAsk, run: (*App).dropAsk},
		at("back", needVenueItem, (*App).askVenueBack),
		set("choose", needVenue, (*App).askRuleSet),
		set("add", onNights, plain),
		set("copy", onNights, plain),
		set("distance", needOwnRuleSet, (*App).askOwnRuleSet),
	}
}

// venueActs bind keys of the timeline to the page of venues.
func (a *App) venueActs() map[string]page.Act {
	drop := a.pageBinding(needPermitAsk, (*App).dropAsk)
	return map[string]page.Act{"row-add": a.pageBinding(onNights, (*App).newVenue), "duplicate": a.pageBinding(needVenue, (*App).copyVenue), "row-copy": a.pageBinding(needVenue, (*App).copyVenue), "delete": drop, "row-remove": drop}
}
