module tubewright

go 1.26.0

require (
	codeberg.org/go-pdf/fpdf v0.12.0
	github.com/andybalholm/brotli v1.1.1
	github.com/go-text/typesetting v0.3.3
	github.com/pelletier/go-toml/v2 v2.4.3
	github.com/rogpeppe/go-internal v1.16.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/spf13/pflag v1.1.0
	github.com/tdewolff/font v0.0.0-20250430140153-b654fd8acba3
	golang.org/x/image v0.47.0
	golang.org/x/text v0.44.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/golang/freetype v0.0.0-20170609003504-e2365dfdc4a0 // indirect
	github.com/tdewolff/parse/v2 v2.8.0 // indirect
	golang.org/x/sys v0.49.0 // indirect
	golang.org/x/tools v0.52.0 // indirect
)
