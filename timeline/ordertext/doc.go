// Package ordertext reads a running order that somebody wrote elsewhere, and finds the
// songs that its lines mean. It guesses and tells; what is in doubt it leaves to whoever
// pastes: a doubt is never a song.
package ordertext
