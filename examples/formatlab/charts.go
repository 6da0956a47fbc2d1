package main

import (
	"fmt"
	"html"
	"image/color"
	"math"
	"regexp"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// A chart draws itself as SVG that fits into a page and takes its colours from
// it. The number n tells the charts of a page apart.
type chart interface {
	heading() string
	svg(n int) (string, error)
}

// Sizes in points of the drawing. It is about as wide as the screen of a
// telephone, so that its text there has the size it has here.
const (
	chartWidth  = 360
	chartHeight = 270
	legendLine  = 15
	fontSize    = 13
	lineWidth   = 2
)

// The colours are those of Okabe and Ito (2008), which people see apart
// whatever their colour vision; every line has a dash of its own besides. On
// the page they are variables, so that a dark page can have lighter ones.
var (
	seriesColors = [mostCompared]color.RGBA{
		{0x00, 0x72, 0xB2, 0xFF}, {0xD5, 0x5E, 0x00, 0xFF}, {0x00, 0x9E, 0x73, 0xFF},
		{0xCC, 0x79, 0xA7, 0xFF}, {0x56, 0xB4, 0xE9, 0xFF}, {0xE6, 0x9F, 0x00, 0xFF},
	}
	seriesDashes = [mostCompared][]vg.Length{nil, {8, 4}, {2, 3}, {10, 3, 2, 3}, {5, 2}, {12, 5}}
	seriesShapes = [mostCompared]draw.GlyphDrawer{draw.CircleGlyph{}, draw.PyramidGlyph{}, draw.BoxGlyph{}, draw.RingGlyph{}, draw.CrossGlyph{}, draw.PlusGlyph{}}
	gridColor    = color.RGBA{0xCC, 0xCC, 0xCC, 0xFF}
	seriesNames  = [mostCompared]string{"--blue", "--orange", "--green", "--pink", "--sky", "--amber"}
)

// series is one line of a chart, or dots, with intervals where they have some.
type series struct {
	Name      string
	X, Y      []float64
	Dots      bool
	Low, High []float64 // intervals of dots
}

func (s *series) Len() int                        { return len(s.X) }
func (s *series) XY(i int) (float64, float64)     { return s.X[i], s.Y[i] }
func (s *series) YError(i int) (down, up float64) { return s.Y[i] - s.Low[i], s.High[i] - s.Y[i] }

// lines is a chart of lines.
type lines struct {
	Title, About   string
	XLabel, YLabel string
	Series         []series
	XNames         []string // names of the x values 0, 1, 2…; nil for numbers
	Zero           bool     // a line marks y = 0
	FromZero       bool     // the y axis begins at 0
}

func (l lines) heading() string { return l.Title }

func (l lines) svg(n int) (string, error) {
	p := blank(l.XLabel, l.YLabel)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = gridColor, gridColor
	grid.Vertical.Width, grid.Horizontal.Width = 0.6, 0.6
	p.Add(grid)
	if l.Zero {
		zero := plotter.NewFunction(func(float64) float64 { return 0 })
		zero.Width = 1
		p.Add(zero)
	}
	legend := plot.NewLegend()
	legend.Top, legend.Left = true, true
	legend.TextStyle.Font.Size = fontSize
	legend.TextStyle.Font.Variant = "Sans"
	legend.ThumbnailWidth, legend.Padding = 34, 4
	for i := range l.Series {
		s := &l.Series[i]
		if s.Dots {
			if s.Low != nil {
				bars, err := plotter.NewYErrorBars(s)
				if err != nil {
					return "", err
				}
				bars.Color, bars.Width, bars.CapWidth = seriesColors[i], lineWidth, 8
				p.Add(bars)
			}
			dots, err := plotter.NewScatter(s)
			if err != nil {
				return "", err
			}
			dots.Color, dots.Radius, dots.Shape = seriesColors[i], 4, seriesShapes[i]
			p.Add(dots)
			legend.Add(s.Name, dots)
			continue
		}
		line, err := plotter.NewLine(s)
		if err != nil {
			return "", err
		}
		line.Color, line.Width, line.Dashes = seriesColors[i], lineWidth, seriesDashes[i]
		p.Add(line)
		legend.Add(s.Name, line)
	}
	p.X.Tick.Marker, p.Y.Tick.Marker = ticks(6), ticks(6)
	if l.Zero {
		p.Y.Min, p.Y.Max = min(p.Y.Min, -1), max(p.Y.Max, 1) // next to nothing is not drawn large
	}
	room := 0.04 * (p.Y.Max - p.Y.Min)
	p.Y.Max += room
	if l.FromZero {
		p.Y.Min = 0
	} else if l.Zero {
		p.Y.Min -= room
	}
	if l.XNames != nil {
		p.NominalX(l.XNames...)
		p.X.Min, p.X.Max = -0.5, float64(len(l.XNames))-0.5
	}
	top := vg.Length(0)
	if len(l.Series) > 1 {
		top = vg.Length(len(l.Series)*legendLine + 6)
	}
	c := vgsvg.New(chartWidth, chartHeight+top)
	dc := draw.New(c)
	if top > 0 {
		legend.Draw(draw.Crop(dc, 4, 0, 0, -2))
	}
	p.Draw(draw.Crop(dc, 2, -8, 2, -top-6))
	return finish(c, n, l.Title, l.About)
}

// blank returns a plot with its axes named.
func blank(x, y string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	p.X.Label.Text, p.Y.Label.Text = x, y
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font = font.Font{Typeface: "Liberation", Variant: "Sans", Size: fontSize}
		a.Tick.Label.Font = a.Label.TextStyle.Font
		a.Label.Padding = 4
		a.Padding = 3
		a.LineStyle.Width = 1
		a.Tick.LineStyle.Width = 1
	}
	return p
}

// ticks puts about so many round numbers on an axis.
type ticks int

func (t ticks) Ticks(low, high float64) []plot.Tick {
	if !(high-low > 1e-9*max(math.Abs(low), math.Abs(high), 1e-9)) {
		return []plot.Tick{{Value: low, Label: fmt.Sprint(low)}}
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/float64(t))))
	for _, by := range []float64{1, 2, 5, 10} {
		if (high-low)/(step*by) <= float64(t) {
			step *= by
			break
		}
	}
	digits := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	var out []plot.Tick
	for n := math.Ceil(low/step - 1e-9); n*step <= high+step*1e-9; n++ {
		out = append(out, plot.Tick{Value: n * step, Label: decimal(n*step+0, digits)})
	}
	return out
}

// above returns the first round number from x on.
func (ticks) above(x float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(x)))
	for _, by := range []float64{1, 2, 5} {
		if x <= by*step {
			return by * step
		}
	}
	return 10 * step
}

// heatMap is a chart of a value for every score.
type heatMap struct {
	Title, About   string
	XLabel, YLabel string
	Legend         string
	Cells          [][]float64 // by points on the x axis, then on the y axis; NaN for none
	Min, Max       float64
	Scale          ramp
}

func (h heatMap) heading() string { return h.Title }

func (h heatMap) svg(n int) (string, error) {
	p := blank(h.XLabel, h.YLabel)
	p.Add(h.heat(cells(h.Cells)))
	numbers, err := h.numbers()
	if err != nil {
		return "", err
	}
	p.Add(numbers)
	p.X.Tick.Marker, p.Y.Tick.Marker = ticks(6), ticks(6)
	p.X.Min, p.X.Max = -0.5, float64(len(h.Cells))-0.5
	p.Y.Min, p.Y.Max = -0.5, float64(len(h.Cells[0]))-0.5
	bar := blank("", h.Legend)
	bar.Add(h.heat(key{h.Min, h.Max}))
	bar.X.Tick.Marker = plot.ConstantTicks(nil)
	bar.X.LineStyle.Width, bar.X.Padding = 0, 0
	bar.Y.Tick.Marker = ticks(5)
	bar.Y.Min, bar.Y.Max = h.Min, h.Max
	const barWidth, height = 80, 310
	c := vgsvg.New(chartWidth, height)
	dc := draw.New(c)
	p.Draw(draw.Crop(dc, 2, -barWidth-14, 2, -6))
	bar.Draw(draw.Crop(dc, chartWidth-barWidth-4, -6, 36, -6))
	out, err := finish(c, n, h.Title, h.About)
	// Without this a reader sees the seams between the cells.
	return strings.Replace(out, "<svg ", `<svg shape-rendering="crispEdges" `, 1), err
}

// nearlyBlack is dark on every page: a drawing leaves black out, and takes the ink
// of the page for it, which is light on a dark one.
var nearlyBlack = color.RGBA{0x11, 0x11, 0x11, 0xFF}

// numbers writes its value into every cell, in black or white, whichever is
// read more easily on the colour beneath.
func (h heatMap) numbers() (*plotter.Labels, error) {
	var at plotter.XYLabels
	var dark []bool
	colors := h.Scale.Colors()
	digits := 0
	if h.Max < 5 {
		digits = 1
	}
	for x, column := range h.Cells {
		for y, v := range column {
			if math.IsNaN(v) {
				continue
			}
			at.XYs = append(at.XYs, plotter.XY{X: float64(x), Y: float64(y)})
			at.Labels = append(at.Labels, decimal(v, digits))
			c := colors[min(len(colors)-1, int((v-h.Min)/(h.Max-h.Min)*float64(len(colors))))].(color.RGBA)
			dark = append(dark, 299*int(c.R)+587*int(c.G)+114*int(c.B) < 128_000)
		}
	}
	out, err := plotter.NewLabels(at)
	if err != nil {
		return nil, err
	}
	for i := range out.TextStyle {
		s := &out.TextStyle[i]
		s.Font.Size = min(fontSize, vg.Length(140/len(h.Cells)))
		if len(at.Labels[i]) > 2 {
			s.Font.Size *= 0.7 // 100 beside 100
		}
		s.Font.Variant = "Sans"
		s.XAlign, s.YAlign = draw.XCenter, draw.YCenter
		s.Color = nearlyBlack
		if dark[i] {
			s.Color = color.White
		}
	}
	return out, nil
}

func (h heatMap) heat(g plotter.GridXYZ) *plotter.HeatMap {
	m := plotter.NewHeatMap(g, h.Scale)
	m.Min, m.Max = h.Min, h.Max
	return m
}

// cells is the grid of a heat map.
type cells [][]float64

func (c cells) Dims() (int, int)   { return len(c), len(c[0]) }
func (c cells) Z(x, y int) float64 { return c[x][y] }
func (c cells) X(x int) float64    { return float64(x) }
func (c cells) Y(y int) float64    { return float64(y) }

// key is the grid of the legend of a heat map: one column of all values.
type key struct{ min, max float64 }

const keySteps = 40

func (k key) Dims() (int, int)   { return 2, keySteps }
func (k key) Z(_, y int) float64 { return k.Y(y) }
func (k key) X(x int) float64    { return float64(x) }
func (k key) Y(y int) float64    { return k.min + (k.max-k.min)*(float64(y)+0.5)/keySteps }

// ramp is a palette that runs through some colours.
type ramp []color.RGBA

var (
	// twoSided runs from one side's colour over grey to the other's.
	twoSided = ramp{{0xD5, 0x5E, 0x00, 0xFF}, {0xEF, 0xEF, 0xEF, 0xFF}, {0x00, 0x72, 0xB2, 0xFF}}
	oneSided = ramp{{0xEF, 0xEF, 0xEF, 0xFF}, {0x00, 0x72, 0xB2, 0xFF}, {0x00, 0x26, 0x4D, 0xFF}}
)

var _ palette.Palette = ramp(nil)

// Colors implements palette.Palette.
func (r ramp) Colors() []color.Color {
	const n = 41
	out := make([]color.Color, n)
	for i := range out {
		at := float64(i) / (n - 1) * float64(len(r)-1)
		k := min(int(at), len(r)-2)
		mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (float64(b)-float64(a))*(at-float64(k)))) }
		a, b := r[k], r[k+1]
		out[i] = color.RGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xFF}
	}
	return out
}

var fontStyle = regexp.MustCompile(`font-family:[^"]*?font-style:normal;?`)

// finish makes the drawing part of a page: it scales, has a title and a
// description for those who do not see it, and the page's colours and font.
func finish(c *vgsvg.Canvas, n int, title, about string) (string, error) {
	var b strings.Builder
	if _, err := c.WriteTo(&b); err != nil {
		return "", err
	}
	_, body, ok := strings.Cut(b.String(), "<svg")
	if !ok {
		return "", fmt.Errorf("chart %q: no drawing", title)
	}
	_, body, _ = strings.Cut(body, ">")
	body = fontStyle.ReplaceAllString(body, "")
	body = strings.ReplaceAll(body, "stroke:#000000", "stroke:currentColor")
	body = strings.ReplaceAll(body, hex(gridColor), "var(--grid)")
	if !strings.Contains(body, "fill:#EFEFEF") { // heat maps keep their scale
		for i, color := range seriesColors {
			body = strings.ReplaceAll(body, hex(color), "var("+seriesNames[i]+")")
		}
	}
	w, h := c.Size()
	return fmt.Sprintf(`<svg viewBox="0 0 %g %g" role="img" aria-labelledby="c%dt c%dd"><title id="c%dt">%s</title><desc id="c%dd">%s</desc>`,
		w.Points(), h.Points(), n, n, n, html.EscapeString(title), n, html.EscapeString(about)) + body, nil
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B) }
