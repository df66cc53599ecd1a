package geom

// XYZ is a vector for hot loops. Go keeps a struct of three numbers in registers;
// a Vec, an array, goes through memory at each operation, which takes several
// times as long. The operations are those of Vec, in the same order, so with the
// same bits. Bare numbers: components.
type XYZ struct{ X, Y, Z float64 }

// Apart returns a Vec as an XYZ.
func Apart(v *Vec) XYZ { return XYZ{v[0], v[1], v[2]} }

// Vec returns it as a Vec.
func (a XYZ) Vec() Vec { return Vec{a.X, a.Y, a.Z} }

// Add returns a + b.
func (a XYZ) Add(b XYZ) XYZ { return XYZ{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a XYZ) Sub(b XYZ) XYZ { return XYZ{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Mul returns a·ratio.
func (a XYZ) Mul(ratio float64) XYZ { return XYZ{a.X * ratio, a.Y * ratio, a.Z * ratio} }

// Dot returns the scalar product.
func (a XYZ) Dot(b XYZ) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// LenSqr returns the square of the length.
func (a XYZ) LenSqr() float64 { return a.Dot(a) }

// Cross returns the vector product.
func (a XYZ) Cross(b XYZ) XYZ {
	return XYZ{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}
