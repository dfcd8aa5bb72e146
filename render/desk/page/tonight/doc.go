// Package tonight is the page that the crew of a night reads first: songs, counts, and all that is to be done before and after.
//
// Its one rule: it says what the report of the night says and changes nothing; every line leads to where to fix it.
//
// Start with New.
package tonight
