// Package load says what stands in the rig and in store, and what becomes of it:
// load plan, patch, wiring, orders, supplies, returns and misfires.
//
// Its one rule: what is on site is counted once, by timeline.OnSite, and every
// report here takes it from there.
package load
