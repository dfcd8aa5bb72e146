package sheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report/permit"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// Printed gives the permit pack as pages: the numbers an officer looks for first,
// then the form, articles, plan, distances, control, estimates, procedures, what
// is not verified, and signatures.
func (k permitPack) Printed() *paper.Sheet {
	sh := titled(&k.Head, "Permit pack")
	sh.Stamp = k.Stamp()
	sh.Parts = append(sh.Parts, k.glance())
	for _, group := range []string{permit.EventGroup, permit.PeopleGroup, permit.StorageGroup, permit.SiteGroup} {
		p := paper.Part{Heading: group}
		for _, f := range k.Fields {
			if f.Group == group {
				p.Entries = append(p.Entries, paper.Fact{Label: f.Label, Text: f.Text})
			}
		}
		sh.Parts = append(sh.Parts, p)
	}
	sh.Parts = append(sh.Parts, k.articlesPart(), k.daysPart(), k.mediaPart(), k.transportPart())
	sh.Parts = append(sh.Parts, planParts(k.Plan, k.Points, k.under)...)
	sh.Parts = append(sh.Parts, k.pointsPart(), k.distancesPart(), k.heightsPart(), k.songsPart(), k.controlPart())
	sh.Parts = append(sh.Parts, k.heatPart(), k.heatAtPart(), k.gasPart(), k.conditionsPart(), k.findingsPart())
	sh.Parts = append(sh.Parts, checkedParts(&k.Head)...)
	sh.Parts = append(sh.Parts, paper.Part{Heading: "Not modelled", Notes: append([]string{"Nothing here was computed or compared; look at it yourself."}, permit.NotModelled...)})
	sh.Parts = append(sh.Parts, k.procedureParts()...)
	return k.ending(sh)
}

// ending adds changes, what is not verified, and signatures.
func (k permitPack) ending(sh *paper.Sheet) *paper.Sheet {
	changes := paper.Part{Heading: "Changes", Notes: []string{"Since the approved revision, written down by whoever hands this in, or as a change report beside it; below, what this night does otherwise than the tour."},
		Entries: []paper.Fact{{Label: "approved revision"}, {Label: "approved on"}, {Label: "changes since then"}}}
	if len(k.Changes) > 0 {
		changes.Columns = columns("what", ">cues", "reason")
		for _, c := range k.Changes {
			changes.Rows = append(changes.Rows, paper.Row{Cells: []string{c.Text, strconv.Itoa(c.Cues), wording.Given(c.Reason)}})
		}
	}
	sh.Parts = append(sh.Parts, changes, k.draftPart(), signPart(k.Sign), paper.Part{Notes: []string{"Distances and heights: " + k.Compared.String() + "."}})
	return sh
}

// glance is what an officer must find in three seconds.
func (k permitPack) glance() paper.Part {
	p := paper.Part{Heading: "At a glance", Figures: []paper.Fact{{Label: "pieces on site", Text: strconv.Itoa(k.Used.Pieces)}, {Label: "NEC on site", Text: wording.Grams(k.Used.NEC) + " g"}}}
	add := func(label, text string) { p.Figures = append(p.Figures, paper.Fact{Label: label, Text: text}) }
	for _, d := range k.Used.Divisions {
		add(fmt.Sprintf("%s: %s", wording.Division(d.Division), timeline.Counted(d.Pieces, "piece")), wording.Grams(d.NEC)+" g")
	}
	add("firing points", strconv.Itoa(len(k.Points)))
	k.closest("audience", add)
	k.closest("performers", add)
	if len(k.Heights) > 0 && k.Heights[0].Trim != nil && k.Heights[0].Needs != nil {
		add("height needed, of trim", k.Told.UpNumber("m", *k.Heights[0].Needs, -1)+" of "+k.Told.Down("m", *k.Heights[0].Trim, -1))
	} else {
		add("trim height", "not given")
	}
	add("rule set", wording.Given(k.RuleSetSaid))
	add("distances and heights", k.Compared.String())
	add("open findings about these", strconv.Itoa(k.Open()))
	return p
}

// closest gives the line of the table of distances with the least margin.
func (k permitPack) closest(to string, add func(label, text string)) {
	i := slices.IndexFunc(k.Distances, func(d permit.Distance) bool { return d.To == to && d.Planned != nil && d.Governs != "" })
	if i < 0 {
		add("distance to "+to, "not measured")
		return
	}
	d := &k.Distances[i]
	add(wording.JoinNames(d.Effects)+" to "+to, k.Told.DownNumber("m", wording.RoundGrams(*d.Planned), -1)+" of "+k.Told.Up("m", d.Required, -1))
}

func (k permitPack) articlesPart() paper.Part {
	p := paper.Part{Heading: "Articles", Columns: columns("article", "type", "size", "category", "UN", "division", ">units", ">pieces", ">spares", ">NEC each g", ">NEC all g", ">commands", "NEC mark")}
	for i := range k.Articles {
		a := &k.Articles[i]
		pieces, each, all := "", "", ""
		if a.Pieces > 0 {
			pieces, each, all = strconv.Itoa(a.Pieces), wording.Grams(a.Each), wording.Grams(a.NEC)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{a.Name, a.Family, a.Size, a.Category, a.UN, a.Division, strconv.Itoa(a.Units), pieces, strconv.Itoa(a.Spares), each, all, strconv.Itoa(a.Commands), a.Mark}})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all", "", "", "", "", "", "", strconv.Itoa(k.Used.Pieces), "", "", wording.Grams(k.Used.NEC), strconv.Itoa(k.Used.Commands), ""}, Strong: true})
	return p
}

func (k permitPack) daysPart() paper.Part {
	p := paper.Part{Heading: "Net explosive content by day and hazard division", Notes: []string{"All that is physically on site, spares and what no cue commands included; nights at the same venue on one day together, each day on its own."},
		Columns: columns("date", "nights", "division", ">pieces", ">NEC g")}
	for _, d := range k.Days {
		nights := wording.Given(strings.Join(d.Nights, ", "))
		for _, part := range d.Divisions {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{wording.Given(d.Date), nights, wording.Division(part.Division), strconv.Itoa(part.Pieces), wording.Grams(part.NEC)}})
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{wording.Given(d.Date), nights, "all", strconv.Itoa(d.Pieces), wording.Grams(d.NEC)}, Strong: true})
	}
	return p
}

func (k permitPack) mediaPart() paper.Part {
	kg := k.Told.Unit("kg")
	p := paper.Part{Heading: "Gases, fluids and paper", Columns: columns("medium", ">supplies", ">cylinders or tanks", ">spare", ">on site "+kg, ">plan uses "+kg, ">of that without a supply "+kg, ">swaps")}
	for _, m := range k.Media {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{wording.Given(m.Medium), strconv.Itoa(m.Supplies), strconv.Itoa(m.Units), strconv.Itoa(m.Spare), k.mass(m.Filled), k.mass(m.Uses), k.mass(m.Unfed), strconv.Itoa(m.Swaps)}})
	}
	if len(p.Rows) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"The plan uses none."}}
	}
	p.Notes = []string{"Masses are estimates; of songs that are alternatives the one that uses most counts."}
	return p
}

// mass writes a mass without its unit.
func (k permitPack) mass(kg float64) string { return wording.Amount(k.Told, "kg", kg) }

func (k permitPack) pointsPart() paper.Part {
	m := k.Told.Unit("m")
	p := paper.Part{Heading: "Firing points", Notes: []string{lengths(k.Told) + " from the middle of the stage's front edge: x to the audience's right, y upstage, z up."},
		Columns: columns(">no", "point", ">x "+m, ">y "+m, ">z "+m, "effects", "articles", "points", ">fallout "+m, ">clear zone "+m)}
	for i := range k.Points {
		q := &k.Points[i]
		at := []string{"not given", "not given", "not given"}
		if q.Position != "" {
			at = []string{k.signed(q.X), k.signed(q.Y), k.signed(q.Z)}
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{strconv.Itoa(q.No), q.Name, at[0], at[1], at[2], wording.JoinNames(q.Effects), strings.Join(q.Articles, ", "), cmp.Or(strings.Join(q.Points, "; "), "upright"), k.zeroless(q.Fallout), k.zeroless(q.Clear)}})
	}
	return p
}

// signed writes a coordinate with the sign that print uses, which no spreadsheet
// takes for a formula.
func (k permitPack) signed(x float64) string {
	return strings.Replace(wording.Amount(k.Told, "m", x), "-", "−", 1)
}

// zeroless writes a length that is not given as such.
func (k permitPack) zeroless(x float64) string {
	if x == 0 {
		return "not given"
	}
	return wording.Amount(k.Told, "m", x)
}

// leftOut says beside the rows of a rule set what they do not have of it.
func (k permitPack) leftOut() []string {
	if len(k.LeftOut) == 0 {
		return nil
	}
	return []string{"Of the rule set these rows leave out: " + strings.Join(k.LeftOut, "; ") + "."}
}

func (k permitPack) distancesPart() paper.Part {
	p := paper.Part{Heading: "Distances: required against planned", Dense: true, Notes: []string{"A row for each thing that asks, each to the line or the edge of a mark from which it is hardest to keep; the tightest come first. Places that have all their rows alike stand in one, with how many they are. What is tilted keeps its distances from every point of its axis or path, and from its unit as well. " +
		judgedWords(k.Told) + " Marks: as under “Not verified”."},
		Columns: columns("to", "no", "firing points", ">places", "effects", "article", "asked by", "measured from", "nearest", ">required "+k.Told.Unit("m"), ">planned "+k.Told.Unit("m"), "mark", "found")}
	p.Notes = append(p.Notes, k.leftOut()...)
	folded := permit.FoldDistances(k.Distances)
	for i := range folded {
		d := &folded[i]
		head := []string{d.To, d.Numbers(), strings.Join(d.Names, ", "), strconv.Itoa(d.Places.Rows), wording.JoinNames(d.All), d.Article + ", " + d.Aim}
		if len(d.Distance.Rows) == 0 {
			p.Rows = append(p.Rows, paper.Row{Cells: append(head, "nothing", "", "", "not given", "not measured", "", d.Verdict)})
		}
		for n := range d.Distance.Rows {
			r := &d.Distance.Rows[n]
			found := r.State(k.Told)
			if r.Governs {
				found += ", governs"
			}
			p.Rows = append(p.Rows, paper.Row{Cells: append(slices.Clone(head), r.By, r.From, nearestText(d.Nearest[n]), judged(k.Told.UpNumber, r.Required, "not given"), judged(k.Told.DownNumber, r.Planned, "not measured"), r.Mark, found), Strong: r.Governs, With: n > 0})
			head = []string{"", "", "", "", "", ""}
		}
	}
	return p
}

// nearestText names the lines or marks that are nearest; which kind they are, the
// people say to whom the distance is kept.
func nearestText(nearest []string) string {
	list := make([]string, len(nearest))
	for i, n := range nearest {
		list[i] = wording.Given(n)
		if _, name, ok := strings.Cut(n, ` "`); ok {
			list[i] = strings.TrimSuffix(name, `"`)
		}
	}
	return strings.Join(list, ", ")
}

// judged writes a length that a row was compared by, or what it is where it is
// not known.
func judged(number func(unit string, m float64, digits int) string, m *float64, unknown string) string {
	if m == nil {
		return unknown
	}
	return number("m", wording.RoundGrams(*m), -1)
}

// judgedWords says how lengths are judged and printed.
func judgedWords(told units.System) string {
	if told == units.Metres {
		return "Required is rounded up and planned is rounded down to a tenth of a metre, and what is printed is what is compared."
	}
	return "Required is rounded up and planned is rounded down to a tenth of a metre, and so they are compared; as printed here, in " + told.String() + ", once more to a tenth, required up and planned down."
}

// lengths begins a note about figures without a unit.
func lengths(told units.System) string { return strings.ToUpper(told.String()[:1]) + told.String()[1:] }

func (k permitPack) heightsPart() paper.Part {
	m := k.Told.Unit("m")
	p := paper.Part{Heading: "Heights under the roof", Notes: []string{"The highest point along the axis, with tolerance, and the margin must not exceed the trim height; tolerance and margin are the venue's, 0.2 and " + k.Told.Say("m", 1, -1) + " unless it gives others (mark J)."},
		Columns: columns("firing points", ">places", "article", "points", ">units", ">z "+m, ">height "+m, ">reaches "+m, ">needs a trim of "+m, ">trim "+m, "mark", "found")}
	folded := permit.FoldHeights(k.Heights)
	for i := range folded {
		h := &folded[i]
		p.Rows = append(p.Rows, paper.Row{Cells: []string{strings.Join(h.Names, ", "), strconv.Itoa(h.Rows), h.Article, h.Aim, strconv.Itoa(h.Units), k.signed(h.Z), k.zeroless(h.Height.Height), judged(k.Told.UpNumber, h.Reach, "not given"), judged(k.Told.UpNumber, h.Needs, "not given"), judged(k.Told.DownNumber, h.Trim, "not given"), h.Mark, h.State(k.Told)}})
	}
	if len(p.Rows) == 0 {
		p.Columns, p.Notes = nil, []string{"Not compared: no venue is chosen, or nothing that is played reaches up."}
	}
	return p
}

func (k permitPack) songsPart() paper.Part {
	p := paper.Part{Heading: "Sequence", Notes: []string{"Every single command stands in the cue list of the same revision."},
		Columns: columns(">no", "song", "starts at", ">length", ">commands", "first command", "last closes", "effects")}
	for i := range k.Songs {
		s := &k.Songs[i]
		title := s.Title
		if s.Alt != "" {
			title += " (alternative " + s.Alt + ")"
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{strconv.Itoa(s.Number), title, s.Start, wording.Clock(s.Duration), strconv.Itoa(s.Commands), s.First, s.Last, strings.Join(s.Effects, ", ")}})
	}
	return p
}

func (k permitPack) controlPart() paper.Part {
	p := paper.Part{Heading: "Control of each effect", Notes: []string{permit.ChainWords},
		Columns: columns("firing point", "effect", "article", "outputs", "how", ">commands", ">lead s", ">open s", "first command", "in song", "state")}
	for i := range k.Control {
		c := &k.Control[i]
		p.Rows = append(p.Rows, paper.Row{Cells: []string{c.Position, c.Effect, c.Article, c.Outputs, c.How, strconv.Itoa(c.Commands), c.Lead, c.Open, c.First, c.Song, c.State}})
	}
	return p
}

// WriteCSV writes it after RFC 4180, part by part as it is printed.
func (k permitPack) WriteCSV(w io.Writer) error {
	return writeParts(w, "permit pack", k.Head, k.Printed().Parts)
}
