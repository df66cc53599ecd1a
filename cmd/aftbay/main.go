// Command aftbay opens the layout window.
package main

import (
	_ "codeberg.org/go-pdf/fpdf"
	"fyne.io/fyne/v2/app"
	_ "fyne.io/fyne/v2/test"
	_ "fyne.io/fyne/v2/widget"
	_ "github.com/go-gl/mathgl/mgl64"
	_ "github.com/hschendel/stl"
	_ "github.com/santhosh-tekuri/jsonschema/v6"
	_ "golang.org/x/image/font/gofont/goregular"
	_ "golang.org/x/image/font/opentype"
)

func main() { app.NewWithID("aftbay.layout").NewWindow("aftbay").ShowAndRun() }
