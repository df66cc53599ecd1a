package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// octetSide is the number of bytes from an octet's low planes to its high ones.
const octetSide = 96

// newOctetStep writes the box test alone, for the octets that distances walk.
func newOctetStep(slackAt Mem) {
	TEXT("rayOctet", 0, "func(o *octet, s *shot, enter *[8]float32) (met uint32)")
	Doc("rayOctet returns a bit for each box of an octet that a shot made wide meets",
		"within its reach, and notes where it enters them, by AVX2 and FMA.")
	Pragma("noescape")
	w := &walk{slackAt: slackAt}
	s := Dereference(Param("s"))
	for k := range 3 {
		w.nearAt[k], w.farAt[k] = GP64(), GP64()
		near, far := w.nearAt[k].As32(), w.farAt[k].As32()
		Comment("All ones below zero: the high plane is met first.")
		MOVL(address(s.Field("inv").Index(k)), near)
		SARL(Imm(31), near)
		ANDL(Imm(octetSide), near)
		MOVL(U32(octetSide), far)
		SUBL(near, far)
		ADDL(Imm(uint64(sideBytes*k)), near)
		ADDL(Imm(uint64(sideBytes*k)), far)
		w.inv[k], w.nearAdd[k], w.farAdd[k] = YMM(), YMM(), YMM()
		VBROADCASTSS(address(s.Field("inv").Index(k)), w.inv[k])
		VBROADCASTSS(address(s.Field("nearAdd").Index(k)), w.nearAdd[k])
		VBROADCASTSS(address(s.Field("farAdd").Index(k)), w.farAdd[k])
	}
	w.zero, w.slack, w.reach = YMM(), YMM(), YMM()
	VXORPS(w.zero, w.zero, w.zero)
	VBROADCASTSS(slackAt, w.slack)
	VBROADCASTSS(address(s.Field("reach")), w.reach)
	w.nears = Mem{Base: Load(Param("enter"), GP64())}
	octet := Load(Param("o"), GP64())
	Store(w.boxes(octet).(reg.Register), ReturnIndex(0))
	VZEROUPPER()
	RET()
}
