package report

// SafeCell returns the text as a spreadsheet cell that is not taken for a
// formula: an apostrophe is put before a leading = + - @ or blank.
func SafeCell(text string) string { return safe(text) }
