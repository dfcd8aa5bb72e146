package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/permit"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// permitPack makes pages of a PermitPack.
type permitPack struct {
	*permit.Pack
	under *render.Underlay // under its stage plan, where that was asked for
}

func (k permitPack) heatPart() paper.Part {
	p := paper.Part{Heading: "Heat of flames, an estimate", Notes: []string{permit.HeatCaution}}
	if len(k.Heat) == 0 {
		p.Notes = append([]string{"No flame of a known fuel and use is played."}, p.Notes...)
		return p
	}
	names := []string{"article", ">units", ">fuel " + k.Told.Unit("kg/s"), ">power kW", ">radiated part", ">length " + k.Told.Unit("m")}
	for _, l := range k.Heat[0].Levels {
		names = append(names, fmt.Sprintf(">%s kW/m² within %s", wording.Plain(l.Level), k.Told.Unit("m")))
	}
	p.Columns = columns(names...)
	for i := range k.Heat {
		h := &k.Heat[i]
		cells := []string{h.Article, strconv.Itoa(h.Units), wording.Amount(k.Told, "kg/s", h.Fuel), wording.Plain(h.Power), h.Part, k.Told.UpNumber("m", wording.RoundGrams(h.Length), -1)}
		for _, l := range h.Levels {
			cells = append(cells, k.Told.UpNumber("m", wording.RoundGrams(l.Metres), -1)+" ("+l.Mark+")")
		}
		p.Rows = append(p.Rows, paper.Row{Cells: cells})
	}
	return p
}

// heatAtPart says what lines and marks get at most.
func (k permitPack) heatAtPart() paper.Part {
	p := paper.Part{Heading: "Heat where people are, an estimate", Notes: []string{"The most of any song: all flames that are open together, and the dose in a minute beside that at which pain begins. In or on a flame there is no number."}, Columns: columns("place", ">song", ">peak kW/m²", ">dose", ">of the dose of pain")}
	for _, h := range k.HeatAt {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{h.Place, strconv.Itoa(h.Song), wording.Plain(h.Peak), wording.Plain(h.Dose), wording.Plain(h.Share*100) + " %"}})
	}
	if len(p.Rows) == 0 {
		p.Columns, p.Notes = nil, []string{"No line or mark, or no flame whose heat can be estimated."}
	}
	return p
}

func (k permitPack) gasPart() paper.Part {
	p := paper.Part{Heading: "CO2 in the room, an estimate", Notes: []string{"The plan lets out none."}}
	if k.Gas != nil {
		p.Notes = k.Gas.Lines(k.Told)
		p.Entries = []paper.Fact{{Label: "CO2 monitors: where, and who hears them"}, {Label: "low places under and around the stage"}}
	}
	return p
}

func (k permitPack) transportPart() paper.Part {
	t := k.Transport
	p := paper.Part{Heading: "Transport points", Notes: []string{"As if all came in one vehicle: net explosive mass and full cylinders in kg, times the factor of their category (ADR 1.1.3.6). Categories come from division and medium, from memory, where nobody has given them."},
		Columns: columns("what", "transport category", ">kg", ">points")}
	if len(t.Lines) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"Nothing on site counts."}}
	}
	for _, l := range t.Lines {
		points := wording.Plain(l.Points)
		if !l.Counted {
			points = "not counted"
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{wording.Division(l.What), wording.Given(l.Category), wording.Plain(l.Kg), points}})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all, of " + wording.Plain(t.Limit), "", "", wording.Plain(t.Points)}, Strong: true})
	return p
}

func (k permitPack) conditionsPart() paper.Part {
	p := paper.Part{Heading: "Conditions and rule set", Columns: columns("from", "condition", "[met")}
	p.Notes = []string{"Which applies: " + wording.Given(k.RuleSource) + "."}
	for _, c := range k.Conditions {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{c.From, c.Text, ""}})
	}
	for i := range 3 {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{"added on site", strings.Repeat(" ", i), ""}})
	}
	return p
}

func (k permitPack) findingsPart() paper.Part {
	p := paper.Part{Heading: "Findings about people and place"}
	rules, _ := rule.AskedOf(k.Plan.Show)
	if k.Compared.Unchecked > 0 {
		p.Notes = []string{fmt.Sprintf("Of %d rules that were asked. Of distances and heights %s: what was not compared was not found, either.", rules, k.Compared)}
	} else if len(k.Findings) == 0 {
		p.Notes = []string{fmt.Sprintf("No conflict found with the %d rules that were asked. That says nothing about what no rule looks at.", rules)}
	} else {
		p.Notes = []string{fmt.Sprintf("Of %d rules that were asked. What is not listed is no conflict found with them, and no more than that.", rules)}
	}
	if len(k.Findings) > 0 {
		p.Columns = columns("severity", "rule", ">findings", ">song", "found", "accepted by")
	}
	if k.Elsewhere > 0 {
		p.Notes = append(p.Notes, timeline.Counted(k.Elsewhere, "further finding")+" about timing, outputs and loads: see the list of findings.")
	}
	for _, f := range permit.FoldFindings(k.Findings) {
		songs := make([]string, len(f.Songs))
		for i, n := range f.Songs {
			songs[i] = strconv.Itoa(n)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{f.Severity, f.Rule, strconv.Itoa(f.Findings), strings.Join(songs, ", "), f.Said(), f.Accepted}})
	}
	return p
}

// procedureParts are what is done when something goes wrong: the production's
// own steps first, then what is alike everywhere.
func (k permitPack) procedureParts() []paper.Part {
	hold := paper.Part{Heading: "Hold", Whole: true, Notes: append(numberedSteps(k.Procedures.Hold), permit.HoldWords...), Columns: columns("reason for a hold", "called by", "[released by")}
	for _, r := range report.HoldReasons {
		hold.Rows = append(hold.Rows, paper.Row{Cells: []string{r.Reason, r.By, ""}})
	}
	emergency := paper.Part{Heading: "Emergency", Whole: true, Notes: append(numberedSteps(k.Procedures.Emergency), permit.AbortWords...)}
	for _, f := range permit.PermitEntries {
		emergency.Entries = append(emergency.Entries, paper.Fact{Label: f.Label})
	}
	return []paper.Part{hold, emergency, {Heading: "Misfire", Whole: true, Notes: append(numberedSteps(k.Procedures.Misfire), permit.MisfireWords...)}}
}

func numberedSteps(steps []string) []string {
	list := make([]string, len(steps))
	for i, s := range steps {
		list[i] = strconv.Itoa(i+1) + "  " + s
	}
	return list
}

func (k permitPack) draftPart() paper.Part {
	p := paper.Part{Heading: "Not verified", Notes: permit.MarkWords}
	if len(k.Draft) == 0 {
		p.Notes = append([]string{"Every distance, height and fallout of what is on site has a label, a measurement or a published source behind it."}, p.Notes...)
		return p
	}
	p.Notes = append([]string{"While anything stands here, this pack is a draft: replace the number by the label's or the maker's, and its mark with it."}, p.Notes...)
	p.Columns = columns("what", "numbers", "mark", "source", "[verified: number and source", "[by")
	for _, u := range k.Draft {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{u.Name, strings.Join(u.Numbers, ", "), u.Mark, wording.Given(u.Source), "", ""}})
	}
	return p
}
