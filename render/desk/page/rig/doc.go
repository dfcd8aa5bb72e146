// Package rig is the pages of what stands on stage: placed effects, positions, groups and supplies.
//
// Its one rule: it tells what stands where and what drives and feeds it, and never what that is safe for.
//
// Start with New.
package rig
