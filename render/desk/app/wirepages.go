package app

import (
	"image"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/shows/report/load"
)

// wirePages are the pages of what hangs on which output.
func (a *App) wirePages() []page.Page {
	outputs := table.New(a, table.Spec{Columns: a.outputColumns, List: a.outputsListed, Buttons: []string{"wire-run", "unwire", "bank-swap"},
		Empty: "There is no output yet: add banks on the page Banks or devices on the page Devices, then wire placed effects to them here.",
		Note:  load.CircuitCaution})
	counts := table.New(a, table.Spec{Columns: a.countColumns, List: table.Of(a, "article"), Buttons: []string{"retire"},
		Empty: "No article yet: the stock is on the page Articles."})
	return []page.Page{
		{ID: "outputs", Name: "Outputs", Part: "Wiring", Keys: []string{"Ctrl+4"}, Help: "every output of every bank and head of every device: what hangs on it, and what is spare", Kind: "wire",
			Acts: map[string]page.Act{"row-add": a.pageBinding(needWires, using("wire-run")), "delete": a.pageBinding(needWired, using("unwire")), "row-remove": a.pageBinding(needWired, using("unwire"))},
			Rows: outputs, Draw: func(r image.Rectangle) { outputs.Draw(r) }},
		table.Records(a, page.Page{ID: "circuits", Name: "Circuits", Part: "Wiring", Help: "igniters and cable on one output: expected ohms, current, margin", Kind: "circuit"}, table.Spec{Empty: "No circuit yet. Press Insert to add one: igniters in series or parallel, and the cable to them; wires then name it.",
			Note: load.CircuitCaution, Columns: a.circuitColumns}),
		{ID: "counts", Name: "Against stock", Part: "Wiring", Help: "how many of each article are placed and wired, against what is on hand", Kind: "",
			Rows: counts, Draw: func(r image.Rectangle) { counts.Draw(r) }},
	}
}
