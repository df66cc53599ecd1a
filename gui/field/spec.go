package field

// Kind is the form that a value has.
type Kind int

// The kinds of values.
const (
	Text    Kind = iota // one line
	Long                // free text
	Number              // one number
	Whole               // a whole number
	Numbers             // a fixed count of numbers: a point, a turn, a range
	Choice              // one of Choices
	Lines               // a list of texts, one a line
	Points              // a list of Numbers, one a line
	List                // of objects
	Object              // with Fields
)

// Spec describes one value of the layout file. It is read-only.
type Spec struct {
	Key      string
	Label    string // in words, without the unit
	One      string // of a list: what one item is called
	Unit     string // of every number in it, "" for none
	Help     string // one sentence
	Kind     Kind
	Required bool
	Zero     bool     // absent means 0, which need not be written
	Choices  []string // of a Choice
	Refers   string   // what its text names: part, group, selector, material …; "" for nothing
	Defines  string   // what a name given here can be referred to as
	Parts    []string // what each of Numbers is called
	Of       *Spec    // what stands in Lines, Points and a List
	Fields   []*Spec  // of an Object, in file order
}

// Field returns the field of an object with a key, nil if there is none.
func (s *Spec) Field(key string) *Spec {
	for _, f := range s.Fields {
		if f.Key == key {
			return f
		}
	}
	return nil
}

// Plain reports whether the value is edited as text in place, not as an object
// or a list of objects of its own.
func (s *Spec) Plain() bool { return s.Kind < List }

// pair reports whether the object is written as a list of its two texts.
func (s *Spec) pair() bool { return len(s.Fields) == 2 && s.Fields[0].Key == "0" }

// At returns the description of what stands at a path, nil if nothing can.
func At(path string) *Spec {
	s := Root()
	for _, step := range Steps(path) {
		switch {
		case s == nil:
			return nil
		case s.Kind == Object:
			s = s.Field(step)
		case s.Kind == List || s.Kind == Lines || s.Kind == Points:
			s = s.Of
		default:
			return nil
		}
	}
	return s
}
