module github.com/evencourt/evencourt/examples

go 1.25.0

require github.com/evencourt/evencourt v0.0.0

replace github.com/evencourt/evencourt => ../
