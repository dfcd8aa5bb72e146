// Package rules is the page of what is checked: the rules with their numbers in this show, and what each finds now.
//
// Its one rule: it decides nothing about a rule; what a rule is and finds is read from timeline/rule and the show's settings.
//
// Start with New.
package rules
