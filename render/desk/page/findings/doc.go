// Package findings is the list of what the rules have found, by cause and worst first: as a page, and as the panel that stands below every other.
//
// Its one rule: it shows the groups that it is given and what is chosen of them; what is done about them are commands of the shell.
//
// Start with List.
package findings
