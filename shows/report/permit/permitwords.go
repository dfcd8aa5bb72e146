package permit

// Procedures, as far as they are alike everywhere (trade practice, in our own
// words); the reasons for a hold are those of the hold sheet.
var HoldWords = []string{
	"Anybody who sees a reason below calls “hold”. The operator lets go of the hand switch, nothing more is fired, arms go down, and every device is brought to the state in which it does nothing.",
	"A hold ends only when the person named beside its reason releases it. A cue missed meanwhile is never fired late: the show goes on at the next re-entry point of the running sheet.",
}

// AbortWords says what is done in an abort (common practice, no source).
var AbortWords = []string{
	"Fire, injury, evacuation, something of the structure failing, or an order by the officer in charge: effects end for the night. Hardware stop pressed, keys out, supplies closed, exits and paths kept free.",
	"After gas, nobody enters a low place until it was measured. What was not fired stays loaded under guard and is unloaded by the operator alone.",
}

// MisfireWords says what is done after a misfire (common practice, no source).
var MisfireWords = []string{
	"An article that was commanded and did not work is a misfire until it is cleared. It is not commanded again. Nobody goes near; the operator takes the key out and isolates its circuit.",
	"After the waiting time of label, maker or permit, the operator in charge approaches alone, as the label says. It goes into the misfire log by bank and output and is handed back as the maker or the authority asks.",
}

// ChainWords is the safety chain, which stands outside any timeline (common
// practice, no source).
const ChainWords = "Key, arm, a hand switch that has to be held, a hardware stop, and spotters with line of sight stand outside any timeline and outside the program that wrote this. " +
	"Timecode alone never fires."

// PermitEntries are lines that somebody writes on beside the procedures.
var PermitEntries = []Field{
	{Label: "emergency number and meeting point"},
	{Label: "who orders an evacuation"},
	{Label: "waiting time after a misfire, and where it is written"},
	{Label: "nearest hospital, first aid post"},
	{Label: "who may enter the storage"},
	{Label: "radio channel for hold and abort"},
}

// MarkWords say what the marks on a permit pack mean.
var MarkWords = []string{
	"S: read in a published source. label: from the label or the maker's sheet. measured: measured by the crew. D: computed here.",
	"M: from memory of a named document. C: common practice, no source. J: our judgement. invented: made up for a demonstration. These four are unverified.",
}

// NotModelled says what no figure and no rule of the program knows of, so that
// nobody takes its silence for an answer.
var NotModelled = []string{
	"noise: how loud an effect is, for audience, crew and neighbours",
	"recoil: what a jet, a mine or a shot does to its stand and to what it is fixed on",
	"smoke: how much there is, where it goes, and what detectors and eyes make of it",
	"wind on a flame, a jet or a shot: wind is compared with limits and moves nothing",
	"line of sight: whether operator and spotters see what they watch, past scenery and people",
}
