// Package stock is the pages of what a programmer owns and knows: articles, types of devices and types of banks.
//
// Its one rule: it shows what stands in records of the stock and counts where the rig uses them; it works out no lead, load or distance.
//
// Start with New.
package stock
