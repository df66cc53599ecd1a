// Package report turns finished answers into the packet for the review: one
// model, several writers. A Model holds plain numbers and sentences that are
// ready to show; it computes nothing and knows neither the scene nor a toolkit.
// WritePDF writes the paper, WriteHTML the same as one page for a browser,
// WriteCSV and WriteXLSX the findings as tables, WriteGLB the scene, WritePacket
// a folder with all of these and the pictures.
//
// Units: millimetres, °C and K margins in the fields that say so; lengths on
// the page are millimetres too. Frame: the vehicle axes of package geom.
//
// Method: the PDF is laid out without pictures until the page numbers hold, then
// once more in full. The page for a browser is written by the same code in the
// same order: where a book has one under way, headings, paragraphs, tables, plots
// and pictures go there. Every writer takes its numbers from the same formatting
// functions, so that the paper and the table can't differ. The same model gives
// the same bytes: the date is the model's own, nothing asks the clock.
//
// Limits: text is set in the Go fonts (Latin, Greek, Cyrillic); a sign they lack
// prints as □. Left-to-right text only.
package report
