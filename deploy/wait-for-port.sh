#!/bin/bash
# wait-for-port.sh HOST PORT SECONDS [MORE]
# Ends with 0 as soon as the port takes calls, with 1 when it took none within so many seconds. MORE: seconds that it waits
# on when the port was shut at first, for what was held back meanwhile to get through.
set -u
host=$1 port=$2 seconds=$3 more=${4:-0}
takes() { (exec 3<>"/dev/tcp/$host/$port") 2>/dev/null; }
takes && exit 0
echo "waiting up to $seconds s for $host:$port" >&2
for ((waited = 0; waited < seconds; waited += 1)); do
  sleep 1
  if takes; then
    sleep "$more"
    exit 0
  fi
done
echo "$host:$port took no call within $seconds s" >&2
exit 1
