// Package table is the table of records that most pages of the book are made of: rows of a show with columns, a filter, an order, chosen
// rows that the inspector shows, commands above it, and the pages that list one kind of record and nothing else.
//
// Its one rule: it knows records, fields and the host of a page, and no page.
//
// Start with New, or with Records for a page that lists one kind.
package table
