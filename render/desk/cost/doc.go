// Package cost counts what frames cost the window, its own work, painting, compiling, checking and garbage, and draws the figures small over a page.
//
// Its one rule: counting and drawing make no garbage and ask for no frame, since what is counted must not be what counts.
//
// Start with Counter.
package cost
