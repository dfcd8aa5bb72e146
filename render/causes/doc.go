// Package causes draws what the rules have found as cards, one a cause: what is wrong and how often, where in the set, the way out of it, and below an
// open one a line for each place.
//
// Its one rule: it draws what it is given and says where it stands; it knows no rule, no plan and no pointer.
//
// Start with Card and Place.
package causes
