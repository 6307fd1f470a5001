# Where the test tools are, and where what tests throw away may lie. Sourced by the scripts beside it; sets variables only.
# shellcheck shell=bash
# shellcheck disable=SC2034 # the scripts that source this use them
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
target=${CARGO_TARGET_DIR:-$root/target}
venv=$root/tests/.venv
postgres_bin=${TYMPAN_POSTGRES_BIN:-/usr/lib/postgresql/15/bin}
tympan_bin=${TYMPAN_BIN:-$target/debug/tympan}
# Databases come and go by the hundred. In memory that costs nothing; some disks' file systems take half a second for a
# new one while they remember which files were just deleted. Where memory is short it is the temporary folder.
scratch=${TMPDIR:-/tmp}
if [ -z "${TMPDIR:-}" ] && [ -w /dev/shm ] && [ "$(df --output=avail -k /dev/shm | tail -n 1)" -ge 6000000 ]; then
    scratch=/dev/shm
fi
# A Node that tests/setup had to fetch, because the system's is too old, goes before the system's.
[ -x "$target/node/bin/node" ] && PATH=$target/node/bin:$PATH
[ -x "$HOME/.cargo/bin/cargo" ] && PATH=$PATH:$HOME/.cargo/bin
export PATH
