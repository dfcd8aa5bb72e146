// Package sheet makes pages of reports, and writes them as PDF, pictures and CSV.
//
// Its one rule: a sheet says what its report says. It adds columns, boxes to
// tick and lines to sign, and nothing that is not in the report.
//
// One file holds one sheet. Kinds lists them.
package sheet
