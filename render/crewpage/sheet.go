package crewpage

import (
	"bytes"
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/render/sheet"
)

// madeSheet is a sheet as it stands in the page.
type madeSheet struct {
	kind    sheet.Kind
	printed *paper.Sheet
	at      []int // of each part the position that it is of; nil = of none
	html    string
}

// write makes the markup of a sheet. The head of paper is left out, which the page
// has, and without makes a page of those that hold no explosives.
func (m *madeSheet) write(withoutCharges bool) {
	var b bytes.Buffer
	out := &writer{w: &b}
	for i := range m.printed.Parts {
		p := m.printed.Parts[i]
		if withoutCharges {
			p = chargeless(p)
		}
		out.raw("<section class=\"part\"")
		if m.at != nil && m.at[i] >= 0 {
			out.raw(" data-at=\"").text(itoa(m.at[i])).raw("\"")
		}
		out.raw(">")
		writePart(out, &p)
		out.raw("</section>\n")
	}
	m.html = b.String()
}

func writePart(out *writer, p *paper.Part) {
	if p.Heading != "" {
		out.raw("<h4>").text(p.Heading).raw("</h4>")
	}
	for _, n := range p.Notes {
		out.raw("<p>").text(n).raw("</p>")
	}
	if facts := slices.Concat(p.Figures, p.Entries); len(facts) > 0 {
		out.raw("<dl>")
		for _, f := range facts {
			out.raw("<dt>").text(f.Label).raw("</dt><dd>")
			if f.Text == "" {
				out.raw("<span class=\"blank\">to be written on paper</span>")
			}
			out.text(f.Text).raw("</dd>")
		}
		out.raw("</dl>")
	}
	if p.Art != nil {
		s := render.NewScene(render.NewFaces())
		s.Reset(image.Pt(720, max(p.Art.Least, 480)), render.Unit)
		p.Art.Draw(s, s.Bounds())
		var svg bytes.Buffer
		if paper.WriteInlineSVG(&svg, s, p.Heading, "art-") == nil {
			out.raw(svg.String())
		}
	}
	if len(p.Columns) == 0 {
		return
	}
	out.raw("<div class=\"scroll\"><table><thead><tr>")
	for _, c := range p.Columns {
		out.raw("<th" + right(c) + ">").text(c.Name).raw("</th>")
	}
	out.raw("</tr></thead><tbody>\n")
	for _, r := range p.Rows {
		out.raw("<tr")
		if r.Strong {
			out.raw(" class=\"strong\"")
		}
		out.raw(">")
		for i, cell := range r.Cells {
			out.raw("<td" + right(p.Columns[i]) + ">").text(cell)
			if cell == "" && p.Columns[i].Box {
				out.raw("<span class=\"box\"></span>")
			}
			out.raw("</td>")
		}
		out.raw("</tr>\n")
	}
	out.raw("</tbody></table></div>")
}

func right(c paper.Column) string {
	if c.Right {
		return " class=\"right\""
	}
	return ""
}

// chargeless gives a part without what it says of quantities of explosives.
func chargeless(p paper.Part) paper.Part {
	says := func(text string) bool { return strings.Contains(text, "NEC") || strings.Contains(text, "explosive") }
	p.Notes = slices.DeleteFunc(slices.Clone(p.Notes), says)
	facts := func(list []paper.Fact) []paper.Fact {
		return slices.DeleteFunc(slices.Clone(list), func(f paper.Fact) bool { return says(f.Label) || says(f.Text) })
	}
	p.Figures, p.Entries = facts(p.Figures), facts(p.Entries)
	var keep []int
	for i, c := range p.Columns {
		if !says(c.Name) {
			keep = append(keep, i)
		}
	}
	pick := func(cells []string) []string {
		var out []string
		for _, i := range keep {
			if i < len(cells) {
				out = append(out, cells[i])
			}
		}
		return out
	}
	columns, rows := p.Columns, p.Rows
	p.Columns, p.Rows = nil, nil
	for _, i := range keep {
		p.Columns = append(p.Columns, columns[i])
	}
	for _, r := range rows {
		if r.Cells = pick(r.Cells); !slices.ContainsFunc(r.Cells, says) {
			p.Rows = append(p.Rows, r)
		}
	}
	return p
}
