/** What a column can hold. 'other': something that is neither a level nor its companion. */
export type Kind = 'frequency' | 'level' | 'phase' | 'noise' | 'other';

type Words = Record<'frequency' | 'level' | 'phase' | 'noise', string[]>;

/** Headings in the languages measuring is taught in; from memory. */
export const HEADINGS: Words[] = [
  {
    frequency: ['Frequency', 'Freq', 'freq.', 'f', 'FREQUENCY'],
    level: ['Level', 'SPL', 'Magnitude', 'Mag', 'Response', 'Sound pressure level'],
    phase: ['Phase', 'Phase angle', 'phase'],
    noise: ['Noise', 'Noise floor'],
  },
  { frequency: ['Frequenz'], level: ['Pegel', 'Schalldruckpegel'], phase: ['Phase', 'Winkel'], noise: ['Störpegel'] },
  { frequency: ['Fréquence'], level: ['Niveau', 'Réponse'], phase: ['Phase'], noise: ['Bruit de fond'] },
  { frequency: ['Frecuencia'], level: ['Nivel'], phase: ['Fase'], noise: ['Ruido'] },
  { frequency: ['Frequenza'], level: ['Livello', 'Risposta'], phase: ['Fase'], noise: ['Rumore'] },
  { frequency: ['Frequência'], level: ['Nível'], phase: ['Fase'], noise: ['Ruído'] },
  { frequency: ['Frequentie'], level: ['Niveau'], phase: ['Fase'], noise: ['Ruis'] },
  { frequency: ['Frekvens'], level: ['Nivå'], phase: ['Fas'], noise: ['Brus'] },
  { frequency: ['Częstotliwość'], level: ['Poziom'], phase: ['Faza'], noise: ['Szum'] },
  { frequency: ['Частота'], level: ['Уровень'], phase: ['Фаза'], noise: ['Шум'] },
  { frequency: ['周波数'], level: ['レベル', '音圧'], phase: ['位相'], noise: ['ノイズ'] },
];

/** Columns that are no level, with a name, a unit and the range their values run through. */
export const OTHERS = [
  { name: 'THD', unit: '%', from: 0.05, to: 24, places: 3 },
  { name: 'Klirrfaktor', unit: '%', from: 0.05, to: 24, places: 3 },
  { name: 'Distortion', unit: 'percent', from: 0.1, to: 30, places: 2 },
  { name: 'THD', unit: 'dB', from: -70, to: -10, places: 2 },
  { name: '2nd harmonic', unit: 'dB', from: -70, to: -10, places: 2 },
  { name: 'Impedance', unit: 'Ohm', from: 3.2, to: 41, places: 2 },
  { name: 'Impedanz', unit: '\u03a9', from: 3.2, to: 41, places: 2 },
  { name: '|Z|', unit: 'ohms', from: 3.2, to: 41, places: 2 },
  { name: 'Coherence', unit: '', from: 0.2, to: 1, places: 4 },
  { name: 'Kohärenz', unit: '', from: 0.2, to: 1, places: 4 },
  { name: 'Group delay', unit: 'ms', from: 1.5, to: 60, places: 2 },
  { name: 'Gruppenlaufzeit', unit: 'ms', from: 1.5, to: 60, places: 2 },
  { name: 'Temps de groupe', unit: 's', from: 0.0015, to: 0.06, places: 5 },
  { name: 'Retardo de grupo', unit: 'ms', from: 1.5, to: 60, places: 2 },
];

/** Columns of a curve that was wanted, not measured. */
export const TARGETS = [
  'Target',
  'Target curve',
  'Zielkurve',
  'Soll',
  'Cible',
  'Objetivo',
  'Obiettivo',
  'Reference',
  'Upper limit',
];

/** Remarks that people and programs put above, between and below the data. Invented, as all numbers in them. */
export const REMARKS = [
  'Sample rate: 48000 Hz',
  'level 94.0 dB at 1000 Hz',
  'Level: 94 dB, 1000 Hz',
  'Pegel 94,0 dB bei 1000 Hz',
  'Niveau 94,0 dB à 1000 Hz',
  'Nivel 94,0 dB a 1 kHz',
  'livello 94,0 dB; 1000 Hz',
  'Уровень 94 dB, 1000 Hz',
  'レベル 94 dB, 1000 Hz',
  'Frequency step 0.37 Hz',
  'Smoothing: 1/24 octave',
  'Frequency response at the seat, level not adjusted',
  'Response, frequency resolution 1 Hz',
  'Sampling frequency 48000, level 0',
  'Level high, measured at noon',
  'fréquence 1000 Hz, niveau 94 dB',
  'Frequenz 1000 Hz; Pegel 94 dB',
  'Frecuencia 1 kHz nivel 94 dB',
  'SPL 94 Hz 1000',
  'Gain of the interface 20 dB, input 2',
  'Phase unwrapped, delay removed',
  'Unit A, step 3',
  'taken on 2026-05-03 at 12:30',
  'the 2nd of 3 runs, in Pa or kHz as you like',
  'level linear with drive',
  '',
];

/** Bare numbers outside the data, without a mark: sample rate, bits, channels, a count. */
export const STRAYS = [
  [48000, 24],
  [1024, 48],
  [44100, 2],
  [65536, 16],
  [2, 48000],
];
