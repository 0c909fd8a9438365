#!/usr/bin/env bash
# Puts the line on this machine, puts a newer version in its place, or goes back to the one before. See install.md.
set -Eeuo pipefail
umask 022

usage="install.sh ARCHIVE [--root FOLDER] [--node FILE] [--without-backup]
install.sh --back [--root FOLDER]

ARCHIVE           neckline-VERSION-linux-ARCH-nodeABI.tar.gz, as npm run release writes it. Run it again as often as you
                  like: nothing that is there is overwritten but the program and its units. Where an older version is
                  there, this one takes its place, and the older one is kept
--back            the version before takes its place again
--root FOLDER     works on the system in FOLDER (an image that is being built), not on this one
--node FILE       the Node that runs the line (default: the one that is found)
--without-backup  an upgrade makes no backup first

Exit codes: 0 done, 1 done but the line does not serve, 2 refused, 3 a fault of this script.
"

root='' node='' archive='' back=no with_backup=yes
program=/opt/neckline settings=/etc/neckline/neckline.env

refuse() { printf '%s\n' "$@" >&2; exit 2; }
# Runs a command within the system that is worked on.
inside() { if [ -n "$root" ]; then chroot "$root" "$@"; else "$@"; fi; }
as_line() { inside setpriv --reuid=neckline --regid=neckline --clear-groups --no-new-privs "$@"; }
# A fact of a version: VERSION, PLATFORM, ARCH, ABI, SCHEMA.
fact() { sed -n "s/^$2=//p" "$root$1/RELEASE"; }
setting() { [ -f "$root$settings" ] || return 0; sed -n "s/^$1=//p" "$root$settings" | tail -n 1 | tr -d "\"'"; }
linked() { readlink "$root$program/$1" 2>/dev/null || true; }
runs_systemd() { [ -z "$root" ] && [ -d /run/systemd/system ]; }

read_words() {
  while [ $# -gt 0 ]; do
    case $1 in
      --help) printf '%s' "$usage"; exit 0 ;;
      --back) back=yes ;;
      --without-backup) with_backup=no ;;
      --root | --node) [ $# -gt 1 ] || refuse "${usage%$'\n'}"; declare -g "${1#--}=${2%/}"; shift ;;
      -*) refuse "${usage%$'\n'}" ;;
      *) [ -z "$archive" ] || refuse "${usage%$'\n'}"; archive=$1 ;;
    esac
    shift
  done
  if [ $back = yes ]; then [ -z "$archive" ] || refuse "${usage%$'\n'}"; else [ -n "$archive" ] || refuse "${usage%$'\n'}"; fi
}

# All that stands in the way, at once.
look_before() {
  local faults=() one
  [ "$(id -u)" = 0 ] || faults+=('This has to be run as root: sudo bash install.sh ...')
  [ -z "$root" ] || [ -d "$root/etc" ] || faults+=("$root: there is no system in this folder.")
  for one in tar gzip sha256sum find install flock; do
    command -v "$one" >/dev/null || faults+=("The command $one is missing: install it first.")
  done
  if [ -z "$archive" ]; then :
  elif [ ! -r "$archive" ]; then faults+=("$archive: there is no such file, or it cannot be read.")
  elif [ -f "$archive.sha256" ] && ! (cd "$(dirname "$archive")" && sha256sum --status -c "$(basename "$archive").sha256"); then
    faults+=("$archive: its content is not the one that $archive.sha256 names. Copy it anew.")
  fi
  [ ${#faults[@]} = 0 ] || refuse "${faults[@]}"
  for one in setpriv useradd groupadd getent; do
    inside sh -c "command -v $one" >/dev/null || faults+=("The command $one is missing: install it first.")
  done
  [ ${#faults[@]} = 0 ] || refuse "${faults[@]}"
}

find_node() {
  [ -n "$node" ] || node=$(inside sh -c 'command -v node || command -v nodejs' || true)
  [ -n "$node" ] || refuse 'Node is missing: install Node 20 first, or name it with --node FILE.'
  node=$(inside readlink -f "$node" || true)
  inside test -x "${node:-/none}" || refuse 'There is no Node at the place that --node names.'
  case $node in /home/* | /root/*) refuse "$node: the line may not look into home folders. Install Node 20 for the whole machine." ;; esac
}

# Unpacks the archive beside the versions that are there, and looks whether it is whole and fits this machine.
unpack() {
  fresh=$program/.new
  rm -rf "$root$fresh"
  mkdir "$root$fresh"
  trap 'rm -rf "$root$fresh"' EXIT
  if ! tar -xzf "$archive" -C "$root$fresh" --strip-components=1 --no-same-owner 2>/dev/null ||
    ! [ -f "$root$fresh/RELEASE" ]; then
    refuse "$archive: this is no archive of the line, or it is damaged."
  fi
  is_whole "$fresh" || refuse "$archive: its files are not those that it names. Copy it anew."
  fits "$fresh" "$node"
}

# Every file is the one that the manifest names, and there is no other; the link to Node is no file.
is_whole() {
  (cd "$root$1" && sha256sum --status --strict -c MANIFEST.sha256 &&
    [ "$(find . -type f | wc -l)" = $(($(wc -l <MANIFEST.sha256) + 1)) ])
}

fits() {
  local has wants
  wants="$(fact "$1" PLATFORM) $(fact "$1" ARCH) $(fact "$1" ABI)"
  has=$(inside "$2" -p '[process.platform, process.arch, process.versions.modules].join(" ")') ||
    refuse "$2: this Node does not start."
  [ "$has" = "$wants" ] ||
    refuse "This archive is for \"$wants\" (system, processor, ABI of Node), but $2 is \"$has\" (Node $(inside "$2" -p process.version)). Install Node 20, or build an archive with this Node."
  inside "$2" -e 'new (require(process.argv[1]))(":memory:").close()' "$1/node_modules/better-sqlite3" 2>/dev/null ||
    refuse 'The database driver of this archive does not load here: it was built on a newer system. Build the archive on this one.'
}

make_user_and_folders() {
  inside getent group neckline >/dev/null || inside groupadd --system neckline
  inside getent passwd neckline >/dev/null ||
    inside useradd --system --gid neckline --home-dir /var/lib/neckline --no-create-home --shell /usr/sbin/nologin neckline
  inside install -d -m 0750 -o root -g neckline /etc/neckline
  inside install -d -m 0700 -o neckline -g neckline /var/lib/neckline /var/lib/neckline-key /var/backups/neckline
  if [ ! -e "$root$settings" ]; then
    inside install -m 0640 -o root -g neckline "$1/deploy/neckline.env.example" "$settings"
    echo "$settings: made from the example"
  fi
}

# A database that a newer version brought forward is not readable for an older one. As the line's user: what the driver
# makes beside the database must not become somebody else's.
refuse_newer_database() {
  local data file unknown known
  data=$(setting NECKLINE_DATA)
  file=${data:-/var/lib/neckline}/neckline.db
  if [ -n "$(setting DATABASE_URL)$(setting DATABASE_URL_FILE)" ] || ! [ -f "$root$file" ]; then return 0; fi
  read -ra known <<<"$(fact "$1" SCHEMA)"
  # shellcheck disable=SC2016 # The $ is of the other language.
  unknown=$(as_line "$node" -e '
    const [driver, file, ...known] = process.argv.slice(1);
    const database = new (require(driver))(file, { readonly: true, timeout: 5000 });
    const names = database.prepare("SELECT name FROM kysely_migration").pluck().all();
    console.log(names.filter((name) => !known.includes(name)).join(" "));
  ' "$1/node_modules/better-sqlite3" "$file" "${known[@]}" 2>/dev/null) ||
    refuse "$file: this database cannot be read, nothing was changed. See what the line itself says of it: journalctl -u neckline"
  [ -z "$unknown" ] || refuse \
    "$file: a newer version than $(fact "$1" VERSION) wrote this database ($unknown), and $(fact "$1" VERSION) cannot read it. Nothing was changed." \
    'Stay with the newer version, or bring back the backup from before the upgrade (backup.md, install.md).'
}

# The folder of a version: its number, and the first letters of its manifest where another build has that number.
place_of() {
  local version sum
  version=$program/$(fact "$1" VERSION)
  sum=$(sha256sum <"$root$1/MANIFEST.sha256" | cut -c 1-8)
  if [ -e "$root$version" ] && ! cmp -s "$root$1/MANIFEST.sha256" "$root$version/MANIFEST.sha256"; then version=$version-$sum; fi
  echo "$version"
}

backup_before() {
  if ! runs_systemd || [ $with_backup = no ] || ! [ -f /var/lib/neckline/neckline.db ]; then return 0; fi
  systemctl start neckline-backup.service || refuse \
    'The backup before the upgrade failed, nothing was changed. See why: journalctl -u neckline-backup' \
    'Mend it and run this again, or go on without one: --without-backup'
  echo 'a backup was made first: /var/backups/neckline'
}

link() { ln -sfn "$2" "$root$program/.link"; mv -T "$root$program/.link" "$root$program/$1"; }

# Units, command and the links, all of one version.
switch_to() {
  local before unit
  before=$(linked current)
  ln -sfn "$node" "$root$program/$1/node"
  mkdir -p "$root/usr/local/bin" "$root/etc/systemd/system/timers.target.wants"
  install -m 0755 "$root$program/$1/deploy/neckline.sh" "$root/usr/local/bin/neckline"
  for unit in "$root$program/$1"/deploy/neckline*.service "$root$program/$1"/deploy/neckline*.timer; do
    install -m 0644 "$unit" "$root/etc/systemd/system/"
  done
  ln -sfn /etc/systemd/system/neckline-backup.timer "$root/etc/systemd/system/timers.target.wants/neckline-backup.timer"
  if [ "$before" != "$1" ]; then
    [ -z "$before" ] || link previous "$before"
    link current "$1"
  fi
}

# Versions that are neither in use nor the one before.
tidy() {
  local one
  for one in "$root$program"/*/RELEASE; do
    one=$(basename "$(dirname "$one")")
    case $one in current | previous | "$(linked current)" | "$(linked previous)") ;; *) rm -rf "${root}${program:?}/${one:?}" ;; esac
  done
}

# 1 when the line ran before and does not answer now.
start_again() {
  runs_systemd || return 0
  systemctl daemon-reload
  systemctl start neckline-backup.timer
  systemctl is-active --quiet neckline || return 0
  systemctl restart neckline
  local port
  port=$(setting NECKLINE_HTTP_PORT)
  # shellcheck disable=SC2016
  "$node" -e '
    const until = Date.now() + 30_000;
    const ask = () => fetch(`http://127.0.0.1:${process.argv[1]}/health`).then(() => process.exit(0), () => {
      if (Date.now() > until) process.exit(1);
      setTimeout(ask, 500);
    });
    ask();
  ' "${port:-8099}" && echo 'the line was started again and answers' && return 0
  printf '%s\n' 'The line was started again and does not answer. See why: journalctl -u neckline -n 50' \
    'Go back to the version before: bash install.sh --back' >&2
  return 1
}

say_what_is_left() {
  local number=0
  step() { number=$((number + 1)); printf '%s. %s\n' $number "$1"; shift; [ $# = 0 ] || printf '   %s\n' "$@"; }
  echo 'What is left to do:'
  if [ -z "$(setting NECKLINE_SMS_GATEWAY)$(setting NECKLINE_TELEGRAM_TOKEN)$(setting NECKLINE_TELEGRAM_TOKEN_FILE)" ]; then
    step 'Say what the programme is, who is on the line and how it is reached: neckline setup --to /etc/neckline' \
      "It asks for all of it. By hand: $settings explains each setting. Files with secrets stand in" \
      '/etc/neckline too, of root and the group neckline, mode 0640.'
  fi
  if [ -z "$(setting NECKLINE_BACKUP_KEY)" ]; then
    step 'Make the pair that backups are sealed to: neckline keys backup-pair /etc/neckline/backup' \
      'The public half seals, stays here and is named in the settings: NECKLINE_BACKUP_KEY=/etc/neckline/backup.public' \
      'The private half opens: take /etc/neckline/backup.private off this machine (a safe, not beside the key file), then' \
      'delete it here. Without it no backup can be brought back; with it nobody can open one who lacks the key file.'
  fi
  if [ ! -e "$root/var/lib/neckline-key/line.key" ]; then
    step 'The key file /var/lib/neckline-key/line.key is made at the first start. Keep one copy of it in a safe: what it' \
      'closed opens for nobody without it.'
  fi
  step 'See what is missing before a patient may be served: neckline ready'
  step 'Start the line, now and whenever this machine starts: systemctl enable --now neckline'
}

install_version() {
  mkdir -p "$root$program"
  find_node
  unpack
  make_user_and_folders "$fresh"
  refuse_newer_database "$fresh"
  local place
  place=$(place_of "$fresh")
  if [ "$(linked current)" = "${place##*/}" ] && is_whole "$place"; then
    echo "$place: is there already"
    switch_to "${place##*/}"
  else
    if [ -n "$(linked current)" ]; then backup_before; fi
    if [ -e "$root$place" ] && ! is_whole "$place"; then rm -rf "${root}$place"; fi
    if [ ! -e "$root$place" ]; then mv "$root$fresh" "$root$place"; fi
    echo "$place: installed"
    switch_to "${place##*/}"
    tidy
    start_again || exit 1
  fi
  say_what_is_left
}

go_back() {
  local before
  before=$(linked previous)
  [ -d "$root$program/${before:-none}" ] || refuse 'No version from before is kept here: there is nothing to go back to.'
  node=$(readlink "$root$program/$before/node")
  inside test -x "$node" || refuse "$node: the Node of version $before is gone. Install it again."
  fits "$program/$before" "$node"
  refuse_newer_database "$program/$before"
  switch_to "$before"
  echo "$program/$before: runs again"
  start_again || exit 1
}

read_words "$@"
look_before
trap 'echo "install.sh: internal error in line $LINENO" >&2; exit 3' ERR
mkdir -p "$root$program"
exec 9>"$root$program/.lock"
flock -n 9 || refuse 'Another install.sh is at work here. Wait until it has ended.'
if [ $back = yes ]; then go_back; else install_version; fi
