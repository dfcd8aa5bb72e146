// Package menus says in which order the commands of a menu stand, under which heads, and which of them in a menu of their own.
//
// Its one rule: whatever commands there are, each stands in its menu once; those that it does not know stand in the last one.
//
// Start with Arrange.
package menus
