// Package night says what one night comes to: the page of the evening, and what
// it does not play as the tour does.
//
// Its one rule: a night is told beside the tour, and every difference has its
// reason.
package night
