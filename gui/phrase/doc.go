// Package phrase is the catalogue of the window's texts: every heading, label,
// hint and sentence that the window says is looked up here on its way out.
//
// Method: the English text, verbs of its format included, is its own key. A
// language is one file texts/LANGUAGE.json, a JSON object from English text to
// translation; texts/en.json lists all texts there are, so that a translator
// starts from it. A text that a language lacks, or gives with other verbs than
// the English one, stays English. The language is read once, at the first text:
// from AFTBAY_LANGUAGE, else from LC_ALL, LC_MESSAGES or LANG as POSIX.1-2017,
// chapter 8.2, orders them.
//
// The language "long" is made up: each text between brackets and a third longer,
// as texts grow when they leave English. It shows what is cut and what does not
// come from the catalogue.
//
// What calculations say, and errors, comes as texts of package say: their formats
// are in the same list.
//
// Limits: numbers and units are written in one way in all languages, as in the
// packet. What comes from the system or from libraries inside an error is told
// as it is.
package phrase
