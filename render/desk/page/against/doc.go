// Package against is the page on which a list that a desk has exported is held against the plan.
//
// Its one rule: it shows what shows/report/held finds and decides nothing; the list is read and never written.
package against
