module github.com/evencourt/evencourt/examples

go 1.25.0

require (
	github.com/evencourt/evencourt v0.0.0
	github.com/stretchr/testify v1.12.1
	gonum.org/v1/gonum v0.17.0
)

require go.yaml.in/yaml/v3 v3.0.5 // indirect

replace github.com/evencourt/evencourt => ../
