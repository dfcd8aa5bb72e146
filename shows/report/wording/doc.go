// Package wording is how reports and sheets write: figures, lists of names,
// tables, CSV and JSON.
//
// Its one rule: it knows no plan. The same thing is written in the same words
// wherever it stands.
package wording
