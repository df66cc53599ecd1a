//go:build unix

package render

import (
	"context"
	"fmt"
	"math"
	"syscall"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// crowd returns twenty closed parts of that many triangles together: balls with
// feature edges as dense as on machined parts, in four rows.
func crowd(triangles int) Scene {
	rings := int(math.Round(math.Sqrt(float64(triangles) / 20 / 4)))
	m := ball(90, rings)
	var edges [][2]int32
	for i := 0; i+1 < len(m.Verts) && i < 4*rings; i++ {
		edges = append(edges, [2]int32{int32(i), int32(i + 1)})
	}
	var s Scene
	for i := range 20 {
		own := &mesh.Mesh{Verts: m.Verts, Tris: m.Tris}
		at := geom.Vec{float64(i%5) * 190, float64(i/5) * 190, float64(i%3) * 60}
		s.Items = append(s.Items, Item{Mesh: own, Edges: edges, Pose: geom.Shift(at), Color: Swatch(i), Closed: true})
	}
	return s
}

// cpuMS returns the processor time that the process has used.
func cpuMS(tb testing.TB) (ms float64) {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		tb.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e6
}

// BenchmarkFrame reports the processor time of a frame, which other work on the
// machine changes little, for three sizes of scene and two of picture.
func BenchmarkFrame(b *testing.B) {
	bare := Options{NoEdges: true, NoOutlines: true}
	with := func(change func(o *Options)) Options {
		o := bare
		change(&o)
		return o
	}
	for _, size := range [][2]int{{1280, 800}, {1920, 1080}} {
		for _, triangles := range []int{50_000, 200_000, 1_000_000} {
			s := crowd(triangles)
			for _, x := range []struct {
				name     string
				o        Options
				parallel bool
				half     bool
			}{
				{"1 worker", with(func(o *Options) { o.Workers = 1 }), false, false},
				{"2 workers", with(func(o *Options) { o.Workers = 2 }), false, false},
				{"parallel", with(func(o *Options) { o.Workers = 1 }), true, false},
				{"lines", Options{Workers: 1}, false, false},
				{"cut", with(func(o *Options) {
					o.Workers, o.Cuts = 1, []Cut{{Point: s.Box().Center(), Normal: geom.Vec{1, 0, 0}}}
				}), false, false},
				{"half", with(func(o *Options) { o.Workers = 1 }), false, true},
				{"fine", with(func(o *Options) { o.Workers, o.Supersample = 1, 2 }), false, false},
			} {
				b.Run(fmt.Sprintf("%dx%d/%dk/%s", size[0], size[1], triangles/1000, x.name), func(b *testing.B) {
					wPx, hPx := size[0], size[1]
					if x.half {
						wPx, hPx = wPx/2, hPx/2
					}
					c := NewCamera()
					c.Parallel = x.parallel
					c = c.FitPoints(s.Corners(), wPx, hPx)
					o := x.o
					frame := func() {
						f, err := Draw(context.Background(), s, c, o, wPx, hPx)
						if err != nil {
							b.Fatal(err)
						}
						o.Reuse = f
					}
					o.Reuse = nil
					frame() // makes the buffers
					began := cpuMS(b)
					for b.Loop() {
						frame()
					}
					b.ReportMetric((cpuMS(b)-began)/float64(b.N), "cpu-ms/frame")
				})
			}
		}
	}
}
