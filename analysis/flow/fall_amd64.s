#include "go_asm.h"
#include "textflag.h"

// LESS is the comparison of VCMPPS that holds where the first is less than the
// second and neither is NaN.
#define LESS $0x11

// codes holds, for each direction, its code in eight lanes: one more than the
// direction, so that 0 is none.
#define CODE(d) \
	DATA codes<>+(d*32+0)(SB)/8, $((d+1)*0x100000001); \
	DATA codes<>+(d*32+8)(SB)/8, $((d+1)*0x100000001); \
	DATA codes<>+(d*32+16)(SB)/8, $((d+1)*0x100000001); \
	DATA codes<>+(d*32+24)(SB)/8, $((d+1)*0x100000001)

CODE(0)
CODE(1)
CODE(2)
CODE(3)
CODE(4)
CODE(5)
CODE(6)
CODE(7)
GLOBL codes<>(SB), RODATA|NOPTR, $256

// Registers, for the eight cells from column CX on:
//
//	Y0      their heights
//	Y1, Y3  the lowest side so far, the cell itself to begin with, and its code
//	Y2, Y4  the same of the corners
//	Y5      the heights of the neighbours in one direction
//	Y6, Y7, Y15  for the moment, as Y0 to Y5 once they have served
//	Y8      all ones
//	Y9      0 as long as all heights of the row are finite
//	Y11     1/m over a side, Y12 over a corner
//	R8      the row above, R9 the row itself, R10 the row below, each from the cell
//	        before the first
//	R11     where the directions go
//	R12     where the bits of stuck go, the next byte
//	DI      where those of the plane go, the next byte of e

// FIRST looks at the first neighbour of the sides or of the corners, NEXT at one
// more. A later one is taken only where it is strictly lower, and has the greater
// code. No data is never less, and VMINPS gives its first operand for it.
#define FIRST(at, d, lowest, code) \
	VMOVUPS at, Y5; \
	VCMPPS  LESS, Y0, Y5, Y6; \
	VMINPS  Y0, Y5, lowest; \
	VPAND   codes<>+(d*32)(SB), Y6, code

#define NEXT(at, d, lowest, code) \
	VMOVUPS at, Y5; \
	VCMPPS  LESS, lowest, Y5, Y6; \
	VMINPS  lowest, Y5, lowest; \
	VPAND   codes<>+(d*32)(SB), Y6, Y6; \
	VPMAXSD Y6, code, code

// MARK notes where the neighbours in Y5 are lower.
#define MARK(word) \
	VCMPPS    LESS, Y0, Y5, Y7; \
	VMOVMSKPS Y7, AX; \
	MOVB      AX, word(DI)

// func descend(v *vectors, plane []lower) (finite bool)
TEXT ·descend(SB), NOSPLIT, $0-33
	MOVQ v+0(FP), BX
	MOVQ plane_base+8(FP), DI
	MOVQ plane_len+16(FP), DX
	MOVQ vectors_up(BX), R8
	MOVQ vectors_mid(BX), R9
	MOVQ vectors_down(BX), R10
	MOVQ vectors_dir(BX), R11
	MOVQ vectors_stuck(BX), R12

	VPCMPEQD     Y8, Y8, Y8
	VPXOR        Y9, Y9, Y9
	VBROADCASTSD vectors_perSide(BX), Y11
	VBROADCASTSD vectors_perCorner(BX), Y12
	XORQ         CX, CX
	SHLQ         $6, DX

cells:
	// The heights. What is finite is 0 less itself; all else is NaN.
	VMOVUPS 4(R9)(CX*4), Y0
	VSUBPS  Y0, Y0, Y6
	VPOR    Y6, Y9, Y9

	// The lowest side and the lowest corner, each clockwise.
	FIRST(4(R8)(CX*4), 0, Y1, Y3)
	NEXT(8(R9)(CX*4), 2, Y1, Y3)
	MARK(lower_e)
	NEXT(4(R10)(CX*4), 4, Y1, Y3)
	MARK(lower_s)
	NEXT(0(R9)(CX*4), 6, Y1, Y3)
	FIRST(8(R8)(CX*4), 1, Y2, Y4)
	NEXT(8(R10)(CX*4), 3, Y2, Y4)
	MARK(lower_se)
	NEXT(0(R10)(CX*4), 5, Y2, Y4)
	MARK(lower_sw)
	NEXT(0(R8)(CX*4), 7, Y2, Y4)

	// How much steeper the side is than the corner, in float64: the first four
	// cells in Y6, the others in Y7.
	VEXTRACTF128 $1, Y1, X5
	VEXTRACTF128 $1, Y2, X15
	VCVTPS2PD    4(R9)(CX*4), Y6
	VCVTPS2PD    20(R9)(CX*4), Y7
	VCVTPS2PD    X1, Y1
	VCVTPS2PD    X2, Y2
	VCVTPS2PD    X5, Y5
	VCVTPS2PD    X15, Y15
	VSUBPD       Y1, Y6, Y1
	VSUBPD       Y2, Y6, Y2
	VSUBPD       Y5, Y7, Y5
	VSUBPD       Y15, Y7, Y15
	VMULPD       Y11, Y1, Y1
	VMULPD       Y12, Y2, Y2
	VMULPD       Y11, Y5, Y5
	VMULPD       Y12, Y15, Y15
	VSUBPD       Y2, Y1, Y6
	VSUBPD       Y15, Y5, Y7

	// The upper halves of the eight differences, in the order of the cells. As
	// whole numbers they have the sign of the differences, and are 0 for those
	// alone that are: 1 less where the corner has the smaller code makes it the
	// first of two that are equally steep. The corner is taken where that is
	// less than 0.
	VSHUFPS   $0xDD, Y7, Y6, Y6
	VPERMQ    $0xD8, Y6, Y6
	VPCMPGTD  Y4, Y3, Y7
	VPADDD    Y7, Y6, Y6
	VBLENDVPS Y6, Y4, Y3, Y3

	// From codes to directions, as bytes, -1 where no neighbour is lower.
	VPADDD       Y8, Y3, Y3
	VEXTRACTI128 $1, Y3, X4
	VPACKSSDW    X4, X3, X4
	VPACKSSWB    X4, X4, X4
	VMOVQ        X4, (R11)(CX*1)

	// Cells that have no lower neighbour: the sign of -1.
	VMOVMSKPS Y3, AX
	MOVB      AX, (R12)

	// On by eight cells: a byte in each word of bits, and after eight times past
	// the other three words of the plane.
	INCQ  R12
	INCQ  DI
	ADDQ  $8, CX
	TESTQ $63, CX
	JNZ   cells
	ADDQ  $(lower__size-8), DI
	CMPQ  CX, DX
	JLT   cells

	VPTEST Y9, Y9
	SETEQ  finite+32(FP)
	VZEROUPPER
	RET
