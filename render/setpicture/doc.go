// Package setpicture draws an evening as a whole: all its songs over one line of time, and below each other what they ask for and what is left.
//
// Its one rule: it draws a course and what it is told of recordings and findings; shapes and areas to be hit come out, and it works nothing out.
//
// Start with Draw.
package setpicture
