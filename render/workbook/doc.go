// Package workbook writes tables as a workbook of Office Open XML (ECMA-376 part 1,
// SpreadsheetML; part 2, its package), which spreadsheets open.
//
// Its one rule: what is written is what is read. A text is never a formula, a date
// or a number, whatever it looks like; a number keeps its decimals; nothing is cut,
// and what a workbook cannot hold is an error. It knows no show.
package workbook
