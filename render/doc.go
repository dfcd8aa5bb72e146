// Package render turns a view of a show into a Scene: a flat list of rectangles, lines, polygons, texts and clips with the areas that can
// be hit. It has one rule: nothing here knows a window, an engine, a clock or a file, so the same scene serves the window, the picture and
// the print, and a test can look at it without a screen.
//
// Positions in a scene are whole device pixels. Sizes in code are logical pixels and pass through Scale.Px once, where a shape is
// added. Colours are named by Ink and become light only when a Theme resolves them.
//
// Start with Scene (the list), Theme (the colours), Faces (the type) and BuildSong (a song's timeline).
package render
