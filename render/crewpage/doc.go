// Package crewpage writes a crew page: one HTML file that a phone opens without
// network, server or installation, and that can be read where scripts do not run.
//
// Its one rule: it adds nothing that is not in the report, the sheets and the
// pictures, nothing of it comes from outside the file, and every word from a show
// is text and never markup.
//
// The page's scripts stand in web, small modules without a framework, and bundle.js
// is what esbuild makes of them: `make crew-page` does, and a test makes it anew and
// compares.
//
// Start with Page.
package crewpage
