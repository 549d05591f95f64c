#!/usr/bin/env bash
# Installs the independent readers (npm packages, versions and digests pinned by package-lock.json) into a
# folder outside the sources: install.sh FOLDER, which then holds node_modules. Needs node 18 or later and npm.
set -euo pipefail

folder=${1:?usage: install.sh FOLDER}
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
mkdir -p "$folder"
cp "$here/package.json" "$here/package-lock.json" "$here/.npmrc" "$folder/"
cd "$folder"
npm ci --ignore-scripts --no-progress
