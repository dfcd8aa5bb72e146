// Package units words and reads lengths, masses, speeds, areas, rooms and temperatures in metres or in feet.
//
// Its one rule: files and judgements are SI; here alone a figure gets another unit, and a figure that is judged is never
// printed as more lenient than it was judged: required is rounded up, planned down.
//
// Start with System. It knows no record and no show.
package units
