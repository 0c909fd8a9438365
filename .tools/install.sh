#!/usr/bin/env bash
# npm ci, keeping the compiled database driver outside the tree so that a second install does not compile it again.
set -euo pipefail
cd "$(dirname "$0")/.."
npm ci --ignore-scripts

# Compile against the headers of the Node that will load it.
home=$(dirname "$(dirname "$(readlink -f "$(command -v node)")")")
if [ -f "$home/include/node/node_version.h" ]; then export npm_config_nodedir=$home; fi

version=$(node -p 'require("better-sqlite3/package.json").version')
abi=$(node -p process.versions.modules)
kept="${XDG_CACHE_HOME:-$HOME/.cache}/better-sqlite3-native/$version-abi$abi-$(uname -m).node"
target=node_modules/better-sqlite3/build/Release
if [ -s "$kept" ]; then
  mkdir -p "$target"
  cp "$kept" "$target/better_sqlite3.node"
else
  npm rebuild better-sqlite3 --foreground-scripts >/dev/null
  mkdir -p "$(dirname "$kept")"
  cp "$target/better_sqlite3.node" "$kept"
fi
