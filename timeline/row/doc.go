// Package row puts effects onto the stage in rows: so many, of an article, so far
// apart, each at a position of its own, named, grouped, addressed and wired.
//
// Its one rule: a row is what one line says, and what stands where is told before it
// is done; nothing that the show has is moved or taken.
//
// Start with Row, Parse and Rows.Plan.
package row
