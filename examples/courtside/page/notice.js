// Notices of a clock: a tone, a vibration, the call spoken; each can be turned off.
import {settings} from './settings.js';
import {language} from './text.js';

let audio;

/** A short tone; browsers allow it once the page was tapped. */
export function ring(times = 1) {
  if (settings.buzz) navigator.vibrate?.(Array(times * 2 - 1).fill(180));
  if (!settings.sound || !globalThis.AudioContext) return;
  audio ||= new AudioContext();
  audio.resume();
  for (let i = 0; i < times; i++) {
    const tone = audio.createOscillator(), loud = audio.createGain(), at = audio.currentTime + i * 0.35;
    tone.frequency.value = 880;
    loud.gain.setValueAtTime(0.25, at);
    loud.gain.exponentialRampToValueAtTime(0.001, at + 0.25);
    tone.connect(loud).connect(audio.destination);
    tone.start(at);
    tone.stop(at + 0.3);
  }
}

/** Says the call aloud. */
export function speak(text) {
  if (!settings.speak || !globalThis.speechSynthesis) return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(text);
  said.lang = language();
  speechSynthesis.speak(said);
}
