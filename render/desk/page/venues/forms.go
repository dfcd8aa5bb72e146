package venues

import (
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// needOwnRuleSet says why no distance can be entered into a rule set.
func (p *Venues) needOwnRuleSet() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if len(p.h.Show().RuleSets) == 0 {
		return "the show has no rule set of its own: make one, or copy a published one"
	}
	return ""
}

// ask asks for an operation on the venue shown.
func (p *Venues) ask(o *operation.Operation) { p.askWith(o, page.Form{}) }

func (p *Venues) askWith(o *operation.Operation, f page.Form) {
	v := p.Shown()
	f.Title = o.Title + " at " + v.Name
	p.h.AskFor(o, timeline.Ref{Kind: "venue", ID: v.ID}, f)
}

// askTrim asks for another trim height.
func (p *Venues) askTrim(o *operation.Operation) {
	p.askWith(o, page.Form{Given: map[string]string{"trim": field.FormatNumber(p.Shown().Trim)}})
}

// askRuleSet asks which rule set is to apply.
func (p *Venues) askRuleSet(o *operation.Operation) {
	given := map[string]string{}
	if set := rule.RuleSetOf(p.h.Show(), p.Shown()); set != nil {
		given["id"] = string(set.ID)
	}
	p.askWith(o, page.Form{Given: given})
}

// askAllowed asks for what is banned and is to be allowed.
func (p *Venues) askAllowed(o *operation.Operation) {
	p.askWith(o, page.Form{Choices: map[string]func() []page.Choice{"what": func() []page.Choice {
		var list []page.Choice
		for _, b := range p.Shown().Banned {
			list = append(list, page.Choice{Value: b, Name: operation.BannedName(p.h.Show(), b)})
		}
		return list
	}}})
}

// askBack asks what is to be taken back of all that is written down of the venue.
func (p *Venues) askBack(o *operation.Operation) {
	p.askWith(o, page.Form{Choices: map[string]func() []page.Choice{"action": func() []page.Choice {
		var list []page.Choice
		for _, i := range operation.VenueItems(p.h.Show(), p.Shown()) {
			list = append(list, page.Choice{Value: i.Op.Name + " " + strconv.Itoa(i.N), Name: i.Op.Name + ": " + i.Text})
		}
		return list
	}}})
}

// askOwnRuleSet asks for a distance of one of the show's own rule sets.
func (p *Venues) askOwnRuleSet(o *operation.Operation) {
	p.h.AskFor(o, timeline.Ref{}, page.Form{Choices: map[string]func() []page.Choice{"id": func() []page.Choice {
		var list []page.Choice
		for _, set := range p.h.Show().RuleSets {
			list = append(list, page.Choice{Value: string(set.ID), Name: set.Name})
		}
		return list
	}}})
}
