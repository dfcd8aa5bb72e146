package app

import (
	"image"

	"emberbeat/shows/sheet"
)

// wirePages are the pages of what hangs on which output.
func wirePages() []page {
	outputs := &ledgerSpec{id: "outputs", columns: outputColumns(), list: outputsListed, buttons: []string{"wire-run", "unwire", "bank-swap"},
		empty: "There is no output yet: add banks on the page Banks or devices on the page Devices, then wire placed effects to them here.",
		note:  sheet.CircuitCaution}
	counts := &ledgerSpec{id: "counts", columns: countColumns(), list: recordsOf("article"), buttons: []string{"retire"},
		empty: "No article yet: the stock is on the page Articles."}
	return []page{
		{id: "outputs", name: "Outputs", part: "Wiring", keys: []string{"Ctrl+4"}, help: "every output of every bank and head of every device: what hangs on it, and what is spare", kind: "wire",
			acts: map[string]act{"row-add": {needWires, (*App).askWires}, "delete": {needWired, (*App).unwire}, "row-remove": {needWired, (*App).unwire}},
			draw: func(a *App, r image.Rectangle) { a.ledger(r, outputs) }},
		recordTable{p: page{id: "circuits", name: "Circuits", part: "Wiring", help: "igniters and cable on one output: expected ohms, current, margin"}, kind: "circuit",
			empty: "No circuit yet. Press Insert to add one: igniters in series or parallel, and the cable to them; wires then name it.",
			note:  sheet.CircuitCaution, buttons: recordButtons, columns: circuitColumns}.page(),
		{id: "counts", name: "Against stock", part: "Wiring", help: "how many of each article are placed and wired, against what is on hand", kind: "",
			draw: func(a *App, r image.Rectangle) { a.ledger(r, counts) }},
	}
}
