package report

import (
	"encoding/csv"
	"io"
	"strings"

	"aftbay/geom"
	"aftbay/geom/say"
)

// findingHeads names the columns of the findings table. Read-only.
var findingHeads = [...]string{
	"no", "zone", "part_a", "rev_a", "part_b", "rev_b", "role_a", "role_b", "state",
	"static_gap_mm", "motion_mm", "heat_mm", "tolerance_mm", "live_gap_mm", "live_gap_is",
	"error_mm", "required_mm", "margin_mm", "rule", "source", "badge",
	"point_a_x_mm", "point_a_y_mm", "point_a_z_mm",
	"point_b_x_mm", "point_b_y_mm", "point_b_z_mm",
	"direction_x", "direction_y", "direction_z",
	"overlap_volume_mm3", "move_out_x_mm", "move_out_y_mm", "move_out_z_mm",
	"picture", "section", "dimension", "verdict", "decision", "owner", "due", "comment",
	"live_gap_rss_mm", "chord_error_mm", "finding", "history",
}

// WriteCSV writes the findings as a table after RFC 4180, one a row, with the
// figures of the PDF. Unknown numbers are empty. A text that a spreadsheet would
// take for a formula gets an apostrophe in front; numbers stay numbers.
func WriteCSV(w io.Writer, m *Model) error {
	if err := Check(m); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2
	if err := out.Write(findingHeads[:]); err != nil {
		return say.Errorf("findings table: %w", err)
	}
	for _, list := range [][]Finding{m.Findings, m.Rest} {
		for i := range list {
			if err := out.Write(findingRow(&list[i])); err != nil {
				return say.Errorf("findings table: %w", err)
			}
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return say.Errorf("findings table: %w", err)
	}
	return nil
}

// findingRow is one finding in the order of findingHeads, safe in a spreadsheet.
func findingRow(f *Finding) []string {
	row := findingTexts(f)
	for i := range row {
		row[i] = SafeCell(row[i])
	}
	return row
}

// findingTexts is one finding in the order of findingHeads, as it is.
func findingTexts(f *Finding) []string {
	row := []string{
		f.ID, f.Zone, f.PartA, f.RevA, f.PartB, f.RevB, f.RoleA, f.RoleB, f.State,
		number(f.StaticMM, gapDecimals), number(f.MotionMM, gapDecimals),
		number(f.HeatMM, gapDecimals), number(f.ToleranceMM, gapDecimals),
		number(f.LiveMM, gapDecimals), boundWord(f),
		number(f.ErrorMM, maxDecimals), number(f.RequiredMM, gapDecimals), number(f.MarginMM, gapDecimals),
		f.Rule, f.Source, badge(f.Habit),
	}
	row = append(row, numbers(f.PointAMM, placeDecimals)...)
	row = append(row, numbers(f.PointBMM, placeDecimals)...)
	row = append(row, numbers(f.Direction, wayDecimals)...)
	row = append(row, number(f.VolumeMM3, 0))
	row = append(row, numbers(f.MoveOutMM, gapDecimals)...)
	return append(row,
		pictureID(f.Picture), pictureID(f.Section), f.Dimension, string(f.Verdict),
		f.Decision, f.Owner, f.Due, f.Comment,
		number(f.LiveRSSMM, gapDecimals), number(f.ChordErrorMM, gapDecimals), f.Key, strings.Join(f.History, historyMark))
}

// historyMark stands between the lines of a history in one cell.
const historyMark = " | "

// number prints v for a table; empty when unknown.
func number(v *float64, decimals int) string {
	if v == nil {
		return ""
	}
	return plain(*v, decimals)
}

// numbers prints the components of v in three cells.
func numbers(v *geom.Vec, decimals int) []string {
	cells := make([]string, 3)
	if v != nil {
		for i := range cells {
			cells[i] = rounded(v[i], decimals)
		}
	}
	return cells
}

func boundWord(f *Finding) string {
	switch {
	case f.LiveMM == nil:
		return ""
	case f.AtLeast:
		return "at least"
	}
	return "exact"
}

func badge(habit bool) string {
	if habit {
		return HabitBadge
	}
	return ""
}

func pictureID(p *Picture) string {
	if p == nil {
		return ""
	}
	return p.Name
}
