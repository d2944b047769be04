import { InputError } from '../../numerics/errors.ts';
import { collapseLesson } from './collapse.ts';
import { distanceLesson } from './distance.ts';
import { efficiencyLesson } from './efficiency.ts';
import { ferriteLesson } from './ferrite.ts';
import { LESSONS, type Lesson } from './lesson.ts';
import { offsetLesson } from './offset.ts';
import { shapeLesson } from './shape.ts';

const MAKERS: readonly (() => Lesson)[] = [
  distanceLesson,
  offsetLesson,
  shapeLesson,
  ferriteLesson,
  efficiencyLesson,
  collapseLesson,
];

/**
 * A lesson, worked out by the same physics as everything else. @param number 1 to 6
 * @throws InputError for any other number
 */
export function lesson(number: number): Lesson {
  const make = MAKERS[number - 1];
  if (!make)
    throw new InputError({
      code: 'no-such-lesson',
      path: 'lesson',
      required: `1 to ${LESSONS}`,
      received: `${number}`,
    });
  return make();
}
