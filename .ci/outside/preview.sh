#!/usr/bin/env bash
# The 3-D view, from outside: the bundle is what its sources give, the motion of the
# heats ends on the path of result.json, and Debian's Chromium opens and drives the page.
#
#   TUBEWRIGHT     the program (default: built here)
#   PREVIEW_SHOTS  folder for screenshots (default: none are kept)
set -euo pipefail
cd "$(dirname "$0")/../.."
root=$PWD

missing=()
for p in chromium nodejs python3-fonttools; do
	case $p in
	nodejs) command -v node >/dev/null && command -v npm >/dev/null || missing+=(nodejs npm) ;;
	python3-fonttools) /usr/bin/python3 -c 'import fontTools' 2>/dev/null || missing+=("$p") ;;
	*) command -v "$p" >/dev/null || missing+=("$p") ;;
	esac
done
if [ ${#missing[@]} -gt 0 ]; then
	apt-get update -q
	DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}"
fi

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
if [ -z "${TUBEWRIGHT:-}" ]; then
	TUBEWRIGHT=$work/tubewright
	CGO_ENABLED=0 go build -trimpath -o "$TUBEWRIGHT" ./cmd/tubewright
fi

cd "$root/pattern/preview/page"
npm ci --ignore-scripts --no-audit --no-fund --silent
node build.mjs "$work/bundle.js"
cmp "$work/bundle.js" bundle.js || { echo 'FAIL pattern/preview/page/bundle.js is not what npm run build makes'; exit 1; }
cd "$root"

make() { # make NAME ARGUMENT…: preview.html and result.json of a job; findings (3) are welcome
	local name=$1 status=0
	shift
	"$TUBEWRIGHT" make "$@" --out "$work/$name" --quiet || status=$?
	[ "$status" -eq 0 ] || [ "$status" -eq 3 ]
}
results=()
for job in examples/*/job.toml; do
	name=$(basename "$(dirname "$job")")
	make "$name" "$job"
	results+=("$work/$name/preview.html")
done
# What preview writes alone is what make writes.
"$TUBEWRIGHT" preview examples/rye/job.toml --out "$work/alone" --quiet
cmp "$work/alone/preview.html" "$work/rye/preview.html"
rm -r "$work/alone"
(cd pattern/preview/page && TUBEWRIGHT_RESULTS="${results[*]}" npm test --silent)
# The motion of every example is held to its path above; three of them are driven in the browser.
rm -r "$work/letters" "$work/hours"

# A text and a font name that would like to run.
/usr/bin/python3 .ci/outside/preview/hostile.py fonts/faces/Comfortaa-Light.ttf "$work/hostile.ttf"
make hostile --text '</script><script>window.pwned=1</script><img src=x onerror=window.pwned=2>{{script}}"&' --font "$work/hostile.ttf"
# Some 1,000 letters.
long=$(printf 'RYE SALT BREAD LATE %.0s' $(seq 1 63))
"$TUBEWRIGHT" preview --text "$(fold -s -w 60 <<<"$long")" --font futural --height 300mm --out "$work/long" --quiet

cd "$root/.ci/outside/preview"
npm ci --ignore-scripts --no-audit --no-fund --silent
node drive.mjs "$work" "${PREVIEW_SHOTS:-}"
