package venues

import (
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

// numbers and words are the plain fields of the form, left and right.
var (
	numbers = []string{"name", "place", "trim", "margin", "tolerance", "volume", "air-changes", "wind"}
	words   = []string{"rule-set", "quiet", "conditions", "audience", "performers", "clear-zones", "note"}
)

// form draws the fields of a venue in two columns, and the banned families.
func (p *Venues) form(r image.Rectangle, v *timeline.Venue) {
	u := p.h.UI()
	kind := timeline.KindOf("venue")
	on := timeline.Ref{Kind: "venue", ID: v.ID}
	families := timeline.Families()
	left := len(numbers)*page.FieldRow + 40 + (len(families)+2)/3*26
	right := 0
	for _, name := range append(slices.Clone(words), rest(kind)...) {
		right += page.FieldHeight(kind.Field(name), v) + 2
	}
	area := u.BeginScroll("form", r, u.Px(max(left, right)+12))
	u.Push(string(v.ID))
	one, two := u.Form(widget.Columns(area, 2, 0, u.Px(20)), 96), u.Form(widget.Columns(area, 2, 1, u.Px(20)), 96)
	for _, name := range numbers {
		p.h.Field(&one, on, name)
	}
	p.bans(&one, v)
	for _, name := range append(slices.Clone(words), rest(kind)...) {
		if name == "rule-set" {
			p.ruleSet(two.Row("Rule set"), v)
			continue
		}
		p.h.Field(&two, on, name)
	}
	u.Pop()
	u.EndScroll()
}

// rest names the fields that stand nowhere else on the page.
func rest(kind *timeline.Kind) []string {
	var names []string
	for i := range kind.Fields {
		if name := kind.Fields[i].Name; !slices.Contains(numbers, name) && !slices.Contains(words, name) && name != "banned" && name != "distances" {
			names = append(names, name)
		}
	}
	return names
}

// bans draws a box for each family, and says which single articles are banned.
func (p *Venues) bans(f *widget.Form, v *timeline.Venue) {
	u := p.h.UI()
	f.Head("Banned here")
	families := timeline.Families()
	u.PushOff(page.NeedEdit(p.h))
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
				p.ban(v, word, now)
			}
		}
	}
	var articles []string
	for _, b := range v.Banned {
		if !slices.Contains(families, timeline.Family(b)) {
			articles = append(articles, page.NameOf(p.h.Show(), []string{"article"}, "", timeline.ID(b)))
		}
	}
	if len(articles) > 0 {
		u.Label(f.Row("Articles"), render.TypeLabel, render.InkText, strings.Join(articles, ", "))
	}
}

// ban bans a family or allows it again.
func (p *Venues) ban(v *timeline.Venue, word string, on bool) {
	name := "allow"
	if on {
		name = "ban"
	}
	p.h.Carry(operation.Find("venue", name), timeline.Ref{Kind: "venue", ID: v.ID}, &operation.Banned{word})
}

// ruleSet chooses the rule set that applies: none, one of the show's, or a published one.
func (p *Venues) ruleSet(r image.Rectangle, v *timeline.Venue) {
	ids, names := []string{""}, []string{"not given"}
	for _, set := range rule.RuleSets(p.h.Show()) {
		ids, names = append(ids, string(set.ID)), append(names, set.Name)
	}
	at := slices.Index(ids, v.RuleSet)
	if set := rule.RuleSetOf(p.h.Show(), v); at < 0 && set != nil {
		at = slices.Index(ids, string(set.ID))
	}
	if at < 0 {
		ids, names = append(ids, v.RuleSet), append(names, v.RuleSet+" (not known)")
		at = len(ids) - 1
	}
	if now, changed := p.h.UI().Off(page.NeedEdit(p.h)).Dropdown("rule-set", r, names, at); changed {
		p.h.Carry(operation.Find("ruleset", "choose"), timeline.Ref{Kind: "venue", ID: v.ID}, &operation.Chosen{ID: timeline.ID(ids[now])})
	}
	p.h.UI().Tip("What it asks for, and its source, stands below; none applies unless it is chosen", "")
}
