package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
)

// iconSizes are those that a phone asks for when the page is installed.
var iconSizes = []int{192, 512}

// icon draws a court from above, one of its four places marked: icon.svg in
// pixels, for systems that take no SVG.
func icon(size int) []byte {
	img := image.NewPaletted(image.Rect(0, 0, size, size), color.Palette{
		color.RGBA{0x10, 0x3b, 0x4a, 0xff}, color.RGBA{0xf4, 0xf1, 0xe8, 0xff}, color.RGBA{0xff, 0xb8, 0x2e, 0xff}})
	fill := func(x0, y0, x1, y1 int, ink uint8) { // in 48ths
		for y := y0 * size / 48; y < y1*size/48; y++ {
			for x := x0 * size / 48; x < x1*size/48; x++ {
				img.SetColorIndex(x, y, ink)
			}
		}
	}
	fill(9, 13, 39, 35, 1)
	for _, court := range [][4]int{{10, 14, 18, 23}, {10, 25, 18, 34}, {30, 14, 38, 23}, {30, 25, 38, 34}, {19, 14, 23, 34}, {25, 14, 29, 34}} {
		fill(court[0], court[1], court[2], court[3], 0)
	}
	fill(12, 27, 16, 32, 2)
	var out bytes.Buffer
	_ = png.Encode(&out, img) // a buffer takes everything
	return out.Bytes()
}
