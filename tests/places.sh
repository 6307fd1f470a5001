# Where the test tools are. Sourced by the scripts beside it; sets variables only.
# shellcheck shell=bash
# shellcheck disable=SC2034 # the scripts that source this use them
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
target=${CARGO_TARGET_DIR:-$root/target}
venv=$root/tests/.venv
postgres_bin=${TYMPAN_POSTGRES_BIN:-/usr/lib/postgresql/15/bin}
tympan_bin=${TYMPAN_BIN:-$target/debug/tympan}
# A Node that tests/setup had to fetch, because the system's is too old, goes before the system's.
[ -x "$target/node/bin/node" ] && PATH=$target/node/bin:$PATH
[ -x "$HOME/.cargo/bin/cargo" ] && PATH=$PATH:$HOME/.cargo/bin
export PATH
