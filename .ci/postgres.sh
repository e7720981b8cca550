#!/bin/sh
# A throw-away PostgreSQL for the tests, on a loopback port, with its data in a folder that goes with it.
#
#   .ci/postgres.sh start        makes and starts one; prints the URL for BLACKBATH_TEST_POSTGRES
#   .ci/postgres.sh stop URL     stops the one that start printed, and removes its data
#
# Needs Debian's package postgresql. PostgreSQL refuses to run as root, so root runs it as the package's user postgres.
set -eu

as_owner() {
	if [ "$(id -u)" = 0 ]; then
		setpriv --reuid=postgres --regid=postgres --clear-groups env HOME=/tmp LC_ALL=C.UTF-8 "$@"
	else
		env LC_ALL=C.UTF-8 "$@"
	fi
}

# The port names the folder, so that stop finds it from the URL.
folder() { echo "${TMPDIR:-/tmp}/blackbath-postgres-$1"; }

tools=$(ls -d /usr/lib/postgresql/*/bin 2>/dev/null | sort -V | tail -n 1)
if [ -z "$tools" ]; then
	echo "postgres.sh: no PostgreSQL in /usr/lib/postgresql: apt-get install postgresql" >&2
	exit 1
fi
cd /

case "${1:-}" in
start)
	first=${BLACKBATH_POSTGRES_PORT:-54390}
	port=$first
	while [ "$port" -lt $((first + 10)) ]; do
		dir=$(folder "$port")
		if as_owner mkdir -m 700 "$dir" 2>/dev/null; then # else another one is at work there
			as_owner "$tools/initdb" -D "$dir/data" -U blackbath -A trust -E UTF8 --no-sync >"$dir.log" 2>&1 ||
				{ cat "$dir.log" >&2; rm -rf "$dir" "$dir.log"; exit 1; }
			if as_owner "$tools/pg_ctl" -D "$dir/data" -l "$dir/server.log" -w -t 60 -o "-p $port -c listen_addresses=127.0.0.1 \
				-c unix_socket_directories='' -c fsync=off -c full_page_writes=off -c max_connections=200" start >"$dir.log" 2>&1; then
				rm -f "$dir.log"
				echo "postgres://blackbath@127.0.0.1:$port/postgres?sslmode=disable"
				exit 0
			fi
			cat "$dir.log" "$dir/server.log" >&2 || true # the port may be taken: say why, and try the next
			rm -rf "$dir" "$dir.log"
		fi
		port=$((port + 1))
	done
	echo "postgres.sh: PostgreSQL starts on none of the ports $first to $((port - 1))" >&2
	exit 1
	;;
stop)
	port=$(echo "${2:?the URL that start printed}" | sed -n 's|.*@127\.0\.0\.1:\([0-9][0-9]*\)/.*|\1|p')
	dir=$(folder "${port:?no port in the URL}")
	as_owner "$tools/pg_ctl" -D "$dir/data" -m immediate -w stop >/dev/null
	rm -rf "$dir"
	;;
*)
	echo "usage: postgres.sh start | postgres.sh stop URL" >&2
	exit 2
	;;
esac
