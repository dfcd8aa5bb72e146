package app

import (
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// stockCommands work on the stock.
func stockCommands() []command {
	return []command{
		operationCommand("stock", "copy", command{id: "stock-take", off: needEdit}, (*App).askTake),
		operationCommand("retire", "", command{id: "retire", off: needArticles}, (*App).retire),
		operationCommand("stock", "measure", command{id: "measure", off: needArticles}, (*App).askMeasure),
	}
}

func needArticles(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "article" {
		return "choose an article on the page Articles first"
	}
	return ""
}

// retire retires the chosen articles, or brings them back where all of them are retired.
func (a *App) retire(o *operation.Operation) {
	r := operation.Retiring{Back: true}
	for _, ref := range a.book.refs {
		r.Articles = append(r.Articles, ref.ID)
		r.Back = r.Back && a.work.shown.Stock.Article(ref.ID).Retired
	}
	edit, err := o.Edit(a.operationAt(timeline.Ref{}), &r)
	if err != nil {
		a.fail(err)
		return
	}
	a.doAsked(change{o.Say(a.work.shown, &r), []timeline.Edit{edit}}, nil)
}

// askMeasure asks for frame counts of a video.
func (a *App) askMeasure(o *operation.Operation) {
	ref := a.book.refs[0]
	a.askOperation(o, timeline.Ref{}, formSpec{title: "Measured lead of " + a.nameOf([]string{"article"}, "", ref.ID), begin: func(args any) { args.(*operation.Measuring).Article = ref.ID },
		choices: map[string]func(*App) []formValue{"through": (*App).latencies}})
}

// latencies lists the banks and devices through which a lead can be measured, with what each adds to it.
func (a *App) latencies() []formValue {
	list := []formValue{{"", "nothing that adds to it"}}
	for _, b := range a.work.shown.Rig.Banks {
		if t := a.work.shown.Stock.BankType(b.Type); t != nil {
			list = append(list, formValue{"bank=" + string(b.ID), b.Name + ", " + t.Latency.String() + " s"})
		}
	}
	for _, v := range a.work.shown.Rig.Devices {
		if t := a.work.shown.Stock.DeviceTypeOf(v); t != nil {
			list = append(list, formValue{"device=" + string(v.ID), v.Name + ", " + t.Latency.String() + " s"})
		}
	}
	return list
}
