#!/bin/sh
# Remake rf64.json: an RF64 file as libsndfile writes it (Debian: sox, sndfile-programs), and its samples as sox reads
# them from the plain WAV it was made of.
set -e
cd "$(dirname "$0")"
work=$(mktemp -d)
sox -R -D -r 11025 -c 2 -n -b 24 "$work/plain.wav" synth 20s sine 500 sine 1300 gain -3
sndfile-convert -pcm24 "$work/plain.wav" "$work/large.rf64"
version=$(dpkg-query -W -f '${Version}' libsndfile1)
samples=$(sox "$work/plain.wav" -t raw -e floating-point -b 64 - | od -An -v -t f8 -w8 | tr -d ' ' | paste -sd,)
printf '{\n  "libsndfile": "%s",\n  "sampleRateHz": 11025,\n  "channels": 2,\n  "wav": "%s",\n  "interleaved": [%s]\n}\n' \
  "$version" "$(base64 -w0 "$work/large.rf64")" "$samples" >rf64.json
rm -r "$work"
