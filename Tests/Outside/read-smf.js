// Reads a Standard MIDI File with @tonejs/midi and prints what it heard as JSON:
//   node read-smf.js FOLDER-WITH-NODE_MODULES FILE.mid
'use strict';

const fs = require('fs');

const [folder, file] = process.argv.slice(2);
const { Midi } = require(require.resolve('@tonejs/midi', { paths: [folder] }));
const midi = new Midi(fs.readFileSync(file));

const tracks = midi.tracks.map((track) => ({
  name: track.name,
  channel: track.channel + 1,
  notes: track.notes.map((note) => ({
    pitch: note.midi,
    tick: note.ticks,
    length: note.durationTicks,
    velocity: Math.round(note.velocity * 127),
  })),
  controllers: Object.values(track.controlChanges).flat().map((change) => ({
    tick: change.ticks,
    number: change.number,
    value: Math.round(change.value * 127),
  })),
}));

console.log(JSON.stringify({
  ticksPerQuarter: midi.header.ppq,
  tempos: midi.header.tempos.map((tempo) => ({ tick: tempo.ticks, bpm: tempo.bpm })),
  meters: midi.header.timeSignatures.map((meter) => ({
    tick: meter.ticks, beats: meter.timeSignature[0], unit: meter.timeSignature[1],
  })),
  markers: midi.header.meta.filter((event) => event.type === 'marker')
    .map((event) => ({ tick: event.ticks, text: event.text })),
  tracks,
}));
