// Package frame draws what stands around the pages of the window: the songs of the running order as tiles.
//
// Its one rule: view state in, shapes and hit areas out; what a song's state is called and what a press does, others say.
//
// Start with Tiles.
package frame
