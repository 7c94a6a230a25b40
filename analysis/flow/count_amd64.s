#include "go_asm.h"
#include "textflag.h"

// eights holds 8 in eight lanes.
DATA eights<>+0(SB)/8, $0x0000000800000008
DATA eights<>+8(SB)/8, $0x0000000800000008
DATA eights<>+16(SB)/8, $0x0000000800000008
DATA eights<>+24(SB)/8, $0x0000000800000008
GLOBL eights<>(SB), RODATA|NOPTR, $32

// bits holds the bit of each direction, from 0 on, and after them what a cell
// waits for whose water stays.
DATA bits<>+0(SB)/8, $0x8040201008040201
DATA bits<>+8(SB)/8, $const_closed
GLOBL bits<>(SB), RODATA|NOPTR, $16

// Registers, for the 32 cells from cell CX of the part on:
//
//	Y0       how many neighbours drain into each, in bytes
//	Y1       the ways of the neighbours in one direction
//	Y2, Y3   for the moment
//	Y4       the numbers of eight cells, from the first on
//	Y5       closed in each byte, Y6 8 in each lane, Y7 1 in each lane
//	Y8-Y15   the bit of each direction, from 0 on, in each byte
//	AX       a bit for each cell that has no inflow, BX for the moment
//	DX       how many cells there are
//	SI       where the next cell without inflow is listed
//	DI       the words
//	R8       the ways of the row above, R9 of the cells themselves, R10 of the row
//	         below, each from the cell before the first
//	R11      places
//	R12      where the first is listed

// COUNT counts the neighbours at a place that drain in the one direction that
// leads here. What is compared is -1 where it is equal.
#define COUNT(at, bit) \
	VPAND    at, bit, Y1; \
	VPCMPEQB Y1, bit, Y1; \
	VPSUBB   Y1, Y0, Y0

// START makes the words of the first eight counts of X2, and lists those of the
// cells that have none, which the low byte of AX tells: all eight places are
// written, and the next eight follow the last that is meant.
#define START(at) \
	VPMOVZXBD X2, Y3; \
	VPSLLD    $const_countBits, Y3, Y3; \
	VPOR      Y7, Y3, Y3; \
	VMOVDQU   Y3, at(DI)(CX*4); \
	MOVBLZX   AX, BX; \
	VPMOVZXBD (R11)(BX*8), Y3; \
	VPADDD    Y4, Y3, Y3; \
	VMOVDQU   Y3, (SI); \
	POPCNTL   BX, BX; \
	LEAQ      (SI)(BX*4), SI; \
	SHRL      $8, AX; \
	VPADDD    Y6, Y4, Y4

// func startWords(words []uint32, s *starts) (found int)
TEXT ·startWords(SB), NOSPLIT, $0-40
	MOVQ words_base+0(FP), DI
	MOVQ words_len+8(FP), DX
	MOVQ s+24(FP), BX
	MOVQ starts_above(BX), R8
	MOVQ starts_w(BX), R10
	MOVQ starts_going(BX), SI
	MOVQ starts_places(BX), R11
	LEAQ (R8)(R10*1), R9
	ADDQ R9, R10
	MOVQ SI, R12

	VPXOR        Y4, Y4, Y4
	VPBROADCASTB bits<>+8(SB), Y5
	VMOVDQU      eights<>(SB), Y6
	VPSRLD       $3, Y6, Y7 // 8 to 1
	VPBROADCASTB bits<>+0(SB), Y8
	VPBROADCASTB bits<>+1(SB), Y9
	VPBROADCASTB bits<>+2(SB), Y10
	VPBROADCASTB bits<>+3(SB), Y11
	VPBROADCASTB bits<>+4(SB), Y12
	VPBROADCASTB bits<>+5(SB), Y13
	VPBROADCASTB bits<>+6(SB), Y14
	VPBROADCASTB bits<>+7(SB), Y15
	XORQ         CX, CX

cells:
	VPXOR Y0, Y0, Y0
	COUNT(1(R8)(CX*1), Y12)
	COUNT(2(R8)(CX*1), Y13)
	COUNT(2(R9)(CX*1), Y14)
	COUNT(2(R10)(CX*1), Y15)
	COUNT(1(R10)(CX*1), Y8)
	COUNT(0(R10)(CX*1), Y9)
	COUNT(0(R9)(CX*1), Y10)
	COUNT(0(R8)(CX*1), Y11)

	// A cell whose water stays waits for more than there are, whatever its
	// inflows.
	VPXOR    Y2, Y2, Y2
	VPCMPEQB 1(R9)(CX*1), Y2, Y3
	VPAND    Y5, Y3, Y3
	VPOR     Y3, Y0, Y0

	VPCMPEQB  Y0, Y2, Y2
	VPMOVMSKB Y2, AX

	VMOVDQA      X0, X2
	START(0)
	VPSRLDQ      $8, X2, X2
	START(32)
	VEXTRACTI128 $1, Y0, X2
	START(64)
	VPSRLDQ      $8, X2, X2
	START(96)

	ADDQ $32, CX
	CMPQ CX, DX
	JLT  cells

	SUBQ R12, SI
	SHRQ $2, SI
	MOVQ SI, found+32(FP)
	VZEROUPPER
	RET
