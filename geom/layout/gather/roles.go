package gather

import (
	"strings"
	"unicode"

	"aftbay/geom/say"
)

// word is what a name may hold: one word or a few in a row, the role it speaks
// for, and how strongly.
type word struct {
	text   string // lower case, words apart by one space
	role   string
	weight int
}

// Weights: what a thing is for (a mount, a shield, a harness) tells more than
// what it belongs to (an engine mount is no engine).
const (
	vague  = 1 // suits several roles: to be looked at
	whole  = 3 // names an assembly that other things belong to
	thing  = 5
	fluid  = 7 // what flows in it decides how far it must stay away
	duty   = 8
	phrase = 9 // several words that mean one thing
)

// words lists what is known. Common practice, no source. Read-only.
var words = []word{
	{"engine", "engine", whole},
	{"motor", "engine", whole},
	{"block", "engine", whole},
	{"crankcase", "engine", whole},
	{"crank", "engine", whole},
	{"head", "engine", whole},
	{"cam", "engine", whole},
	{"timing", "engine", whole},
	{"pulley", "engine", whole},
	{"sump", "engine", whole},
	{"oil pan", "engine", phrase},
	{"oil filter", "engine", phrase},
	{"alternator", "engine", vague},
	{"starter", "engine", vague},
	{"transaxle", "transaxle", whole + 1},
	{"transmission", "transaxle", whole},
	{"gearbox", "transaxle", whole},
	{"gear", "transaxle", whole},
	{"bellhousing", "transaxle", whole},
	{"bell housing", "transaxle", phrase},
	{"clutch", "transaxle", whole},
	{"diff", "transaxle", whole},
	{"differential", "transaxle", whole},
	{"final drive", "transaxle", phrase},
	{"exhaust", "exhaust", thing},
	{"header", "exhaust", thing},
	{"primary", "exhaust", thing},
	{"collector", "exhaust", thing},
	{"downpipe", "exhaust", thing},
	{"muffler", "exhaust", thing},
	{"silencer", "exhaust", thing},
	{"tailpipe", "exhaust", thing},
	{"tail pipe", "exhaust", phrase},
	{"catalyst", "exhaust", thing},
	{"cat", "exhaust", thing},
	{"turbo", "exhaust", thing},
	{"turbocharger", "exhaust", thing},
	{"wastegate", "exhaust", thing},
	{"manifold", "exhaust", vague},
	{"intake", "intake", thing},
	{"inlet", "intake", thing},
	{"plenum", "intake", thing},
	{"throttle", "intake", thing},
	{"runner", "intake", thing},
	{"airbox", "intake", thing},
	{"air box", "intake", phrase},
	{"air filter", "intake", phrase},
	{"intercooler", "intake", thing},
	{"oil tank", "oil tank", phrase},
	{"oil reservoir", "oil tank", phrase},
	{"catch can", "oil tank", phrase},
	{"tank", "oil tank", vague},
	{"coil", "coil", duty},
	{"coil spring", "suspension", phrase},
	{"sensor", "sensor", duty},
	{"probe", "sensor", duty},
	{"ecu", "sensor", vague},
	{"harness", "harness", duty + 1},
	{"wiring", "harness", duty + 1},
	{"loom", "harness", duty + 1},
	{"cable", "harness", duty},
	{"hose", "hose", duty},
	{"duct", "hose", vague},
	{"fuel", "fuel", fluid},
	{"petrol", "fuel", fluid},
	{"coolant", "coolant", fluid},
	{"radiator", "coolant", fluid},
	{"water", "coolant", fluid},
	{"brake", "brake", fluid},
	{"caliper", "brake", fluid},
	{"body", "body", whole - 1},
	{"chassis", "body", whole},
	{"roof", "body", whole},
	{"floor", "body", whole},
	{"panel", "body", whole},
	{"undertray", "body", thing},
	{"bumper", "body", thing},
	{"nose", "body", whole},
	{"windscreen", "body", vague},
	{"glass", "body", vague},
	{"tail deck", "body", phrase},
	{"deck", "deck", thing},
	{"lid", "deck", thing},
	{"hatch", "deck", thing},
	{"bonnet", "deck", vague},
	{"firewall", "firewall", thing},
	{"fire wall", "firewall", phrase},
	{"bulkhead", "firewall", thing},
	{"suspension", "suspension", thing},
	{"subframe", "suspension", thing},
	{"link", "suspension", thing},
	{"wishbone", "suspension", thing},
	{"upright", "suspension", thing},
	{"damper", "suspension", thing},
	{"spring", "suspension", thing},
	{"coilover", "suspension", duty},
	{"trackrod", "suspension", thing},
	{"halfshaft", "half-shaft", duty},
	{"half shaft", "half-shaft", phrase},
	{"driveshaft", "half-shaft", duty},
	{"drive shaft", "half-shaft", phrase},
	{"cv", "half-shaft", duty},
	{"wheel", "wheel", thing},
	{"tyre", "wheel", thing},
	{"tire", "wheel", thing},
	{"mount", "mount", duty},
	{"bracket", "mount", duty},
	{"mounting", "mount", duty},
	{"shield", "shield", phrase},
	{"heatshield", "shield", phrase},
	{"baffle", "shield", thing},
	{"sightline", "sightline", phrase},
	{"sight line", "sightline", phrase + 1},
	{"sight", "sightline", duty},
	{"road", "road", thing},
	{"ground", "road", vague},
}

// RoleOther is proposed where no word of a name is known; no rule but those for
// everything holds for it.
const RoleOther = "other"

// guess is an answer with its reason.
type guess struct {
	value string
	why   say.Text
	sure  bool
}

// roleOf proposes a role for a name, which is a file's without its extension.
func roleOf(name string) guess {
	have := wordsOf(name)
	text := " " + strings.Join(have, " ") + " "
	var best word
	bestAt := -1
	for _, w := range words {
		at := max(strings.LastIndex(text, " "+w.text+" "), strings.LastIndex(text, " "+w.text+"s "))
		if at < 0 {
			continue
		}
		if w.weight > best.weight || w.weight == best.weight && at > bestAt {
			best, bestAt = w, at
		}
	}
	if bestAt < 0 {
		return guess{RoleOther, say.Of("no word of the name is known"), false}
	}
	return guess{best.role, say.F("the name says %q", best.text), best.weight > vague}
}

// wordsOf takes a name apart: at everything that is no letter, and where a
// small letter meets a capital. Words of capitals alone stay whole.
func wordsOf(name string) []string {
	var list []string
	var word []rune
	end := func() {
		if len(word) > 0 {
			list = append(list, strings.ToLower(string(word)))
			word = nil
		}
	}
	var last rune
	for _, r := range name {
		if !unicode.IsLetter(r) || unicode.IsUpper(r) && unicode.IsLower(last) {
			end()
		}
		if unicode.IsLetter(r) {
			word = append(word, r)
		}
		last = r
	}
	end()
	return list
}
