// Package setview is the page on which a set or a night is seen whole: all songs over one line of time, with what they ask for, what is left, and
// what is found; their order is changed there.
//
// Its one rule: it shows the course of the plan and what the rules found; the only change that it makes by itself is the order.
//
// Start with New.
package setview
