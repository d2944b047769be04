import { efficiencyLesson } from '../../src/analysis/lessons/efficiency.ts';
import type { Lesson } from '../../src/analysis/lessons/lesson.ts';
import { lesson } from '../../src/analysis/lessons/lessons.ts';

/** The lessons themselves, which take milliseconds; the one on ferrite would take seconds and borrows another's figure. */
export function fakeLesson(number: number): Lesson {
  return number === 4 ? { ...efficiencyLesson(), number: 4, title: 'Ferrite, and why L moves' } : lesson(number);
}
