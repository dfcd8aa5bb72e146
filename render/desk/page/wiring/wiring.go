package wiring

import (
	"image"
	"slices"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// ID is that of the page.
const ID = "outputs"

// wiring is the page of one host; it remembers nothing but its table.
type wiring struct{ h page.Host }

// New gives the page of outputs and the commands that join placed effects to them.
func New(h page.Host) page.Family {
	p := &wiring{h}
	t := table.New(h, table.Spec{Columns: p.columns, List: p.listed, Buttons: []string{"wire-run", "unwire", "bank-swap"},
		Empty: "There is no output yet: add banks on the page Banks or devices on the page Devices, then wire placed effects to them here.",
		Note:  load.CircuitCaution})
	run := page.Does(operation.Find("wire", ""), page.Command{ID: "wire-run", Keys: []string{"Ctrl+Shift+W"}, Off: p.needWires, Run: p.askWires})
	unwire := page.Does(operation.Find("unwire", ""), page.Command{Off: p.needWired, Run: p.unwire})
	swap := page.Does(operation.Find("swap-bank", ""), page.Command{ID: "bank-swap", Off: p.needBanks, Run: p.askSwap})
	return page.Family{
		Pages: []page.Page{{ID: ID, Name: "Outputs", Part: "Wiring", Keys: []string{"Ctrl+4"}, Help: "every output of every bank and head of every device: what hangs on it, and what is spare", Kind: "wire",
			Acts: map[string]page.Act{"row-add": run.Act(), "delete": unwire.Act(), "row-remove": unwire.Act()},
			Rows: t, Draw: func(r image.Rectangle) { t.Draw(r) }}},
		Commands: []page.Command{run, unwire, swap},
	}
}

func (p *wiring) needWired() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if len(p.chosenWires()) == 0 {
		return "choose an output or a placed effect with a wire first"
	}
	return ""
}

// chosenDrivers gives the banks and devices of the chosen rows, each once.
func (p *wiring) chosenDrivers() []timeline.ID {
	var ids []timeline.ID
	for _, r := range page.ChosenRecords(p.h) {
		id := timeline.ID("")
		switch rec := r.(type) {
		case *timeline.Bank:
			id = rec.ID
		case *timeline.Device:
			id = rec.ID
		case *timeline.Wire:
			id = rec.Driver
		}
		if id != "" && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// chosenWires gives the wires of the chosen outputs or placed effects.
func (p *wiring) chosenWires() []timeline.ID {
	var ids []timeline.ID
	for _, r := range page.ChosenRecords(p.h) {
		switch rec := r.(type) {
		case *timeline.Wire:
			ids = append(ids, rec.ID)
		case *timeline.Placed:
			for _, w := range p.h.Show().Rig.Wires {
				if w.Placed == rec.ID {
					ids = append(ids, w.ID)
				}
			}
		}
	}
	return ids
}

// unwire takes the chosen wires away as one step.
func (p *wiring) unwire() {
	p.h.Carry(operation.Find("unwire", ""), timeline.Ref{}, &operation.Unwiring{Wires: p.chosenWires()})
}
