/**
 * Reading aloud with the device's own voice (Web Speech API).
 *
 * Every sentence is handed over at once and the browser's own queue keeps them in order: nothing here waits for a
 * sentence to end, since some voices never say that they have. What is said next begins by ending what is being said.
 */
import { spoken } from '../../shared/index.ts';

/** Whether this browser can read aloud at all. */
export function hasVoice(): boolean {
  return typeof speechSynthesis !== 'undefined' && typeof SpeechSynthesisUtterance !== 'undefined';
}

/** Say some sentences, in place of what is being said. */
export function say(text: string): void {
  if (!hasVoice()) return;
  speechSynthesis.cancel();
  for (const sentence of text.split(/(?<=[.!?])\s+/)) {
    const words = spoken(sentence);
    if (words === '') continue;
    const utterance = new SpeechSynthesisUtterance(words);
    utterance.lang = 'en-GB';
    speechSynthesis.speak(utterance);
  }
}

/** Say no more. */
export function hush(): void {
  if (hasVoice()) speechSynthesis.cancel();
}
