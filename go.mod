module github.com/evencourt/evencourt

go 1.25.0

require (
	github.com/google/go-cmp v0.7.0
	github.com/leanovate/gopter v0.2.9
	github.com/santhosh-tekuri/jsonschema/v5 v5.3.1
	github.com/stretchr/testify v1.12.1
)

require go.yaml.in/yaml/v3 v3.0.5 // indirect
