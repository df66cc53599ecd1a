package main

import (
	"fmt"

	"github.com/mmcloughlin/avo/attr"
	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/gotypes"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

const (
	rayBytes    = 64   // of a bvh.Ray: origin, direction, near and far limit
	flightBytes = 160  // of a bvh.flight
	mostInverse = 1e18 // bvh.mostInverse
	allButSign  = 1<<63 - 1
)

// vector is one number of each of four rays.
type vector = reg.VecVirtual

// aimer is the function being written that makes four rays ready at once, a lane
// each, every operation that of shot.aim, shot.enter and shot.widen.
type aimer struct {
	frame           gotypes.Component
	flights         reg.Register
	isY, isZ, along vector // for pick: whether the main axis is y, or z; the direction along it

	// In memory, four lanes each.
	from, dir, inverse, rows [3]Op
	length, far              Mem
	// In memory, one lane.
	oneAt, mostAt, sizeAt, signAt, slackAt, infiniteAt Mem
	axisAt                                             [3]Mem
}

// newAimer writes the function.
func newAimer(slackAt Mem) {
	a := &aimer{
		oneAt: ConstData("one", F64(1)), mostAt: ConstData("mostInverse", F64(mostInverse)),
		sizeAt: ConstData("allButSign", U64(allButSign)), signAt: ConstData("onlySign", U64(allButSign+1)),
		slackAt: slackAt, infiniteAt: ConstData("infinite", U32(infinite)),
	}
	rows := GLOBL("rowOffsets", attr.RODATA|attr.NOPTR)
	for i := range 12 {
		DATA(8*i, U64(axisRows*(i/4)))
	}
	for k := range 3 {
		a.rows[k] = rows.Offset(32 * k)
		a.axisAt[k] = ConstData(fmt.Sprintf("axisOffset%d", k), U32(axisBytes*k))
	}
	TEXT("aimFour", 0, "func(rays *Ray, flights *flight, f *frame) (aimed uint32)")
	Doc("aimFour makes four rays ready, by AVX2 and FMA, and returns a bit for each that",
		"is: those that start within the frame, have no near limit and lie along no axis.")
	Pragma("noescape")
	for k := range 3 {
		a.from[k], a.dir[k], a.inverse[k] = AllocLocal(32), AllocLocal(32), AllocLocal(32)
	}
	a.length, a.far = AllocLocal(32), AllocLocal(32)
	a.frame = Param("f").Dereference(Load(Param("f"), GP64()))
	a.flights = Load(Param("flights"), GP64())
	aimed := a.load()
	a.forTriangles()
	a.forBoxes()
	Store(aimed, ReturnIndex(0))
	VZEROUPPER()
	RET()
}

// everyLane returns a number of the frame in all lanes.
func everyLane(at Mem) vector {
	v := YMM()
	VBROADCASTSD(at, v)
	return v
}

// turn makes the columns of four rows of doubles.
func turn(row [4]vector) (column [4]vector) {
	low01, high01, low23, high23 := YMM(), YMM(), YMM(), YMM()
	VUNPCKLPD(row[1], row[0], low01)
	VUNPCKHPD(row[1], row[0], high01)
	VUNPCKLPD(row[3], row[2], low23)
	VUNPCKHPD(row[3], row[2], high23)
	for k := range column {
		column[k] = YMM()
	}
	VPERM2F128(Imm(0x20), low23, low01, column[0])
	VPERM2F128(Imm(0x20), high23, high01, column[1])
	VPERM2F128(Imm(0x31), low23, low01, column[2])
	VPERM2F128(Imm(0x31), high23, high01, column[3])
	return column
}

// load reads the rays and finds out which are of the common kind.
func (a *aimer) load() (aimed reg.GPVirtual) {
	rays := Load(Param("rays"), GP64())
	rows := func(at int) (r [4]vector) {
		for k := range r {
			r[k] = YMM()
			VMOVUPD(Mem{Base: rays, Disp: rayBytes*k + at}, r[k])
		}
		return r
	}
	start, rest := turn(rows(0)), turn(rows(32))
	dir := [3]vector{start[3], rest[0], rest[1]}
	near, far, length := rest[2], rest[3], YMM()
	VMOVUPD(far, a.far)

	const equalOrBelow, below, above = 18, 17, 30 // ordered, quiet
	test, good, zero := YMM(), YMM(), YMM()
	VXORPD(zero, zero, zero)
	VCMPPD(Imm(equalOrBelow), zero, near, good)
	also := func(predicate uint8, second, first Op) {
		VCMPPD(Imm(uint64(predicate)), second, first, test)
		VANDPD(test, good, good)
	}
	also(above, zero, far)
	Comment("The length of the direction, and one over its components.")
	square := YMM()
	VMULPD(dir[0], dir[0], length)
	for k := 1; k < 3; k++ {
		VMULPD(dir[k], dir[k], square)
		VADDPD(square, length, length)
	}
	VSQRTPD(length, length)
	VMOVUPD(length, a.length)
	also(above, zero, length)
	for k := range 3 {
		VMOVUPD(dir[k], a.dir[k])
		inv := everyLane(a.oneAt)
		VDIVPD(dir[k], inv, inv)
		VMOVUPD(inv, a.inverse[k])
		VMULPD(length, inv, inv)
		VANDPD(everyLane(a.sizeAt), inv, inv)
		also(below, everyLane(a.mostAt), inv)
	}
	for k := range 3 {
		const atLeast = 29
		VSUBPD(everyLane(a.at("originMM", k)), start[k], start[k])
		VMOVUPD(start[k], a.from[k])
		also(atLeast, everyLane(a.at("loMM", k)), start[k])
		also(equalOrBelow, everyLane(a.at("hiMM", k)), start[k])
	}
	aimed = GP32()
	VMOVMSKPD(good, aimed)
	return aimed
}

// at returns where a number of the frame lies, that of axis k if it is not below 0.
func (a *aimer) at(field string, k int) Mem {
	f := a.frame.Field(field)
	if k >= 0 {
		f = f.Index(k)
	}
	return address(f)
}

// inv returns the length over a component of the direction.
func (a *aimer) inv(k int) vector {
	v := YMM()
	VMOVUPD(a.length, v)
	VMULPD(a.inverse[k], v, v)
	return v
}

// pick returns v[kz], that of the main axis, or of one that follows it.
func (a *aimer) pick(v [3]Op, after int) vector {
	out := YMM()
	VMOVUPD(v[after%3], out)
	VBLENDVPD(a.isY, v[(1+after)%3], out, out)
	VBLENDVPD(a.isZ, v[(2+after)%3], out, out)
	return out
}

// sheared returns v[kx] and v[ky]: the axes after the main one, the other way
// round where the ray runs against it.
func (a *aimer) sheared(v [3]Op) (x, y vector) {
	x, y = YMM(), YMM()
	next, last := a.pick(v, 1), a.pick(v, 2)
	VBLENDVPD(a.along, last, next, x)
	VBLENDVPD(a.along, next, last, y)
	return x, y
}

// forTriangles fills in the sheared frame.
func (a *aimer) forTriangles() {
	Comment("The main axis: the first of the greatest components.")
	size := func(k int) vector {
		v := everyLane(a.sizeAt)
		VANDPD(a.dir[k], v, v)
		return v
	}
	const above = 30
	a.isY, a.isZ = YMM(), YMM()
	x, y, z := size(0), size(1), size(2)
	VCMPPD(Imm(above), x, y, a.isY)
	VMAXPD(x, y, x)
	VCMPPD(Imm(above), x, z, a.isZ)
	a.along = a.pick(a.dir, 0)

	var first, second, third [4]vector
	first[0], first[1] = a.sheared(a.from)
	first[2] = a.pick(a.from, 0)
	perZ := a.pick(a.inverse, 0)
	first[3], second[0] = a.sheared(a.dir)
	VMULPD(perZ, first[3], first[3])
	a.store(first, "xFromMM")
	VMULPD(perZ, second[0], second[0])
	second[1], second[2], second[3] = perZ, YMM(), YMM()
	VMULPD(a.length, perZ, perZ)
	VMOVUPD(a.far, second[2])
	VXORPD(second[3], second[3], second[3])
	a.store(second, "yRatio")
	third[0], third[1] = a.sheared(a.rows)
	third[2], third[3] = a.pick(a.rows, 0), YMM()
	VXORPD(third[3], third[3], third[3])
	a.store(third, "xRow")
}

// field returns where a field of a flight lies from its start.
func (a *aimer) field(ray int, name string) Mem {
	m := address(Param("flights").Dereference(a.flights).Field(name))
	return m.Offset(flightBytes * ray)
}

// store puts four numbers of each ray into its flight, from a field on.
func (a *aimer) store(v [4]vector, field string) {
	for ray, numbers := range turn(v) {
		VMOVUPD(numbers, a.field(ray, field))
	}
}

// forBoxes fills in what the box test needs.
func (a *aimer) forBoxes() {
	var inv, near, far, at [4]vector
	pad := everyLane(a.at("padMM", -1))
	for k := range 3 {
		exact := a.inv(k)
		inv[k], near[k], far[k], at[k] = XMM(), XMM(), XMM(), XMM()
		VCVTPD2PSY(exact, inv[k])
		VCVTPS2PD(inv[k], exact)
		lo, hi, plane := YMM(), YMM(), YMM()
		VMOVUPD(a.from[k], hi)
		rounded := func(v vector) {
			VCVTPD2PSY(v, v.AsX())
			VCVTPS2PD(v.AsX(), v)
		}
		VADDPD(pad, hi, lo)
		rounded(lo)
		VSUBPD(pad, hi, hi)
		rounded(hi)
		add := func(backwards, forwards, to vector) {
			VBLENDVPD(exact, backwards, forwards, plane)
			VMULPD(exact, plane, plane)
			VXORPD(everyLane(a.signAt), plane, plane)
			VCVTPD2PSY(plane, to)
		}
		add(hi, lo, near[k])
		add(lo, hi, far[k])
		Comment("The high planes are met first where the direction is negative.")
		VPSRLD(Imm(31), inv[k], at[k])
		VPSLLD(Imm(sideShift), at[k], at[k])
		if k > 0 {
			axis := XMM()
			VPBROADCASTD(a.axisAt[k], axis)
			VPADDD(axis, at[k], at[k])
		}
	}
	reach, most, none := XMM(), XMM(), XMM()
	far4 := YMM()
	VMOVUPD(a.far, far4)
	VCVTPD2PSY(far4, reach)
	VPBROADCASTD(a.slackAt, most)
	VPADDD(most, reach, reach)
	VPBROADCASTD(a.infiniteAt, most)
	VPMINSD(most, reach, reach)
	inv[3] = reach
	a.storeShort(inv, "inv")
	VPCMPEQD(none, none, none)
	near[3] = none
	a.storeShort(near, "nearAdd")
	VPXOR(none, none, none)
	far[3], at[3] = none, none
	a.storeShort(far, "farAdd")
	a.storeShort(at, "nearAt")
}

// storeShort is store for numbers of 32 bits.
func (a *aimer) storeShort(v [4]vector, field string) {
	low01, high01, low23, high23 := XMM(), XMM(), XMM(), XMM()
	VUNPCKLPS(v[1], v[0], low01)
	VUNPCKHPS(v[1], v[0], high01)
	VUNPCKLPS(v[3], v[2], low23)
	VUNPCKHPS(v[3], v[2], high23)
	out := XMM()
	place := func(ray int) Mem {
		return address(Param("flights").Dereference(a.flights).Field(field).Index(0)).Offset(flightBytes * ray)
	}
	VUNPCKLPD(low23, low01, out)
	VMOVUPS(out, place(0))
	VUNPCKHPD(low23, low01, out)
	VMOVUPS(out, place(1))
	VUNPCKLPD(high23, high01, out)
	VMOVUPS(out, place(2))
	VUNPCKHPD(high23, high01, out)
	VMOVUPS(out, place(3))
}
