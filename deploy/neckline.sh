#!/bin/sh
# The command `neckline` of a machine on which deploy/install.sh put the line. What works on the line's data runs as the
# line's user, so that nothing there becomes somebody else's; the rest, and what writes settings, as whoever calls it.
line=/opt/neckline/current
case "${1:-}" in
  play | assess | category | check | draw | cards | setup | help | --help | '') own=no ;;
  keys) [ "${2:-}" = backup-pair ] && own=no || own=yes ;;
  *) own=yes ;;
esac
if [ "$own" = yes ] && [ "$(id -u)" = 0 ]; then
  exec setpriv --reuid=neckline --regid=neckline --clear-groups --no-new-privs "$line/node" "$line/dist/main.js" "$@"
fi
exec "$line/node" "$line/dist/main.js" "$@"
