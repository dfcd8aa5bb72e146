// Package picture reads pictures of venues' plans: PNG itself, SVG and pages of PDF
// by programs that may be installed, and those that lie in a show's folder.
//
// Its one rule: a picture is looked at before it is unpacked, nothing of it leads out
// of the folder, and what cannot be read says why in a sentence. It measures nothing.
package picture
