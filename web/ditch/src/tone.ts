// A tone and a shake beside the word, for ears behind protection and eyes elsewhere. Nothing depends on them.
import type { Pace } from './pace';

let context: AudioContext | undefined;

const tunes: Record<Pace, { hertz: number; times: number }> = {
  move: { hertz: 880, times: 1 },
  wait: { hertz: 440, times: 2 },
  slow: { hertz: 220, times: 4 },
  there: { hertz: 660, times: 3 },
};

export function sound(pace: Pace): void {
  const { hertz, times } = tunes[pace];
  navigator.vibrate?.(Array.from({ length: 2 * times - 1 }, () => 150));
  context ??= new AudioContext();
  for (let i = 0; i < times; i += 1) {
    const oscillator = context.createOscillator();
    oscillator.frequency.value = hertz;
    oscillator.connect(context.destination);
    oscillator.start(context.currentTime + 0.3 * i);
    oscillator.stop(context.currentTime + 0.3 * i + 0.18);
  }
}
