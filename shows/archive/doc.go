// Package archive opens what comes packed from elsewhere: ZIP archives, and XML
// text in them.
//
// Its one rule: everything is looked at before anything is unpacked, and whatever
// could do harm is refused with a sentence that names it: a path that leads out, a
// link, a device, two files of one name, encryption, bytes that are shared or that
// grow beyond measure, entities that grow. It knows no format of what is inside.
package archive
