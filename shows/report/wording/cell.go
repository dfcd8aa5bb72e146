package wording

import "strings"

// FormulaStarts are the characters that make a spreadsheet compute a cell
// instead of showing it: OWASP, CSV Injection; the wide forms of the same
// signs are added because some programs fold them.
const FormulaStarts = "=+-@\t\r\n＝＋－＠"

// startsFormula reports whether a text begins as a formula does, behind spaces and
// apostrophes: those count so that CellText gives back what PlainCell was given.
func startsFormula(s string) bool {
	first := strings.TrimLeft(s, " \u00a0'")
	for _, r := range first {
		return strings.ContainsRune(FormulaStarts, r)
	}
	return false
}

// PlainCell gives a text as a cell that no spreadsheet takes for a formula: with
// an apostrophe before it where it begins as one. Sheets write their own negative
// numbers in words, so this meets only what a user named so, and bars before 1.
func PlainCell(s string) string {
	if startsFormula(s) {
		return "'" + s
	}
	return s
}

// CellText gives the text of a cell that PlainCell made.
func CellText(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && startsFormula(rest) {
		return rest
	}
	return cell
}
