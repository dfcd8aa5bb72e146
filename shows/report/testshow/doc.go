// Package testshow has the shows that tests of reports and sheets look at.
//
// Its one rule: only tests import it.
package testshow
