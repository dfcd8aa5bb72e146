package stock

import (
	"emberbeat/render/desk/page"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// commands are what is done with stock.
func (p stock) commands() []page.Command {
	return []page.Command{
		page.Does(operation.Find("stock", "copy"), page.Command{ID: "stock-take", Off: page.With(p.h, page.NeedEdit), Run: p.askTake}),
		page.Does(operation.Find("retire", ""), page.Command{Off: p.needArticles, Run: p.retire}),
		page.Does(operation.Find("stock", "measure"), page.Command{ID: "measure", Off: p.needArticles, Run: p.askMeasure}),
	}
}

func (p stock) needArticles() string {
	if why := page.NeedChosenEdit(p.h); why != "" {
		return why
	}
	if p.h.Chosen()[0].Kind != "article" {
		return "choose an article on the page Articles first"
	}
	return ""
}

// askTake asks from where stock shall come.
func (p stock) askTake() {
	p.h.AskFor(operation.Find("stock", "copy"), timeline.Ref{}, page.Form{
		Caution: "The starter stock is invented. " + report.Caution,
		Given:   map[string]string{"from": operation.StarterStock, "conflicts": "keep"},
		Choices: map[string]func() []page.Choice{
			"from": func() []page.Choice {
				return []page.Choice{{Value: operation.StarterStock, Name: "the starter stock"}, {Value: "", Name: "another show's folder"}}
			},
			"conflicts": func() []page.Choice {
				return []page.Choice{{Value: "keep", Name: "keep what is here"}, {Value: "replace", Name: "replace by theirs"}}
			},
		},
		Off: map[string]func(any) string{"folder": func(args any) string {
			if args.(*operation.CopyStock).From != "" {
				return "choose another show's folder to write one"
			}
			return ""
		}},
	})
}

// retire retires the chosen articles, or brings them back where all of them are retired.
func (p stock) retire() {
	r := operation.Retiring{Back: true}
	for _, ref := range p.h.Chosen() {
		r.Articles = append(r.Articles, ref.ID)
		r.Back = r.Back && p.h.Show().Stock.Article(ref.ID).Retired
	}
	p.h.Carry(operation.Find("retire", ""), timeline.Ref{}, &r)
}

// askMeasure asks for frame counts of a video.
func (p stock) askMeasure() {
	id := p.h.Chosen()[0].ID
	p.h.AskFor(operation.Find("stock", "measure"), timeline.Ref{}, page.Form{Title: "Measured lead of " + page.NameOf(p.h.Show(), []string{"article"}, "", id),
		Begin: func(args any) { args.(*operation.Measuring).Article = id }, Choices: map[string]func() []page.Choice{"through": p.latencies}})
}

// latencies lists the banks and devices through which a lead can be measured, with what each adds to it.
func (p stock) latencies() []page.Choice {
	list := []page.Choice{{Value: "", Name: "nothing that adds to it"}}
	add := func(kind, name string, id timeline.ID, late timeline.Time) {
		list = append(list, page.Choice{Value: kind + "=" + string(id), Name: name + ", " + late.String() + " s"})
	}
	s := p.h.Show()
	for _, b := range s.Rig.Banks {
		if t := s.Stock.BankType(b.Type); t != nil {
			add("bank", b.Name, b.ID, t.Latency)
		}
	}
	for _, v := range s.Rig.Devices {
		if t := s.Stock.DeviceTypeOf(v); t != nil {
			add("device", v.Name, v.ID, t.Latency)
		}
	}
	return list
}
