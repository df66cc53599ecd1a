// Package say holds the sentences that calculations return, and their errors, so
// that they can be told in any language: the English format and what fills it,
// instead of the finished text.
//
// Method: a Text keeps its format and arguments apart. String fills the English
// one: that is what files, reports and programs read, digit for digit. In asks a
// catalogue for the format first, and for those of the texts and errors among
// the arguments; the digits are the same. An error made here is a Text too and
// wraps as those of package fmt do.
//
// Limits: a format is one whole sentence or a clause that can stand between
// others. A format without a letter of its own only joins and is never looked
// up. What the system says (a disk that is full) is known by a short list;
// anything else of its words stays as it is.
package say
