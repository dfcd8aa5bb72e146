// Package paper draws a render.Scene without a screen. Its one rule: it decides nothing; what is on the picture, where and in which ink
// stands in the scene, and the same scene gives the same bytes each time. Rectangles are exact to the pixel, texts stand on whole pixels,
// polygons and lines are smoothed.
//
// Start with Image and WritePNG for pictures. For printing, a Sheet is laid out by Pages and written by WritePDF.
package paper
