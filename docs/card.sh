#!/usr/bin/env bash
# Makes docs/card.png: the café's "MIXER is dark" card, from the demo rig, as a laptop shows it. Needs Chromium.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
cargo run --quiet --release -p cli -- cards examples/harbour-cafe/harbour-cafe.rig -o "$work/all.html" >/dev/null
card="$(grep -o 'id="title-[0-9]*"><b class="tape">MIXER</b> is dark<' "$work/all.html" | head -1 | grep -o '[0-9][0-9]*')"
# Only that card: everything else is hidden, and nothing of it is changed.
only="<style>.bar, .list, article:not(#card-$card) { display: none } article { border: 0 !important; margin: 0 !important; padding: 0 !important }</style>"
sed "s|</head>|$only</head>|" "$work/all.html" >"$work/one.html"
chromium --headless --no-sandbox --disable-gpu --hide-scrollbars --user-data-dir="$work/profile" \
  --window-size="${1:-1280,1830}" --screenshot="$PWD/docs/card.png" "file://$work/one.html" >/dev/null 2>&1
