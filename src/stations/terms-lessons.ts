import { LESSON_TITLES } from '../analysis/lessons/lesson.ts';
import { OURS, TRADE, term } from './term.ts';

/** Labels of the lessons. */
export const LESSON_TERMS = Object.freeze({
  lessonPredict: term('What do you expect?', 'Say what you expect before the figure is uncovered.', OURS),
  lessonFound: term('What it shows', 'Statements with the numbers of this very figure.', OURS),
  lessonEquation: term('Equation and source', 'The law behind the figure, and where it is written down.', OURS),
  lessonSheet: term('Teacher’s sheet', 'All lessons on paper: aims, questions, answers, sources.', OURS),
  lessonAim: term('Aim', 'What is to be learnt.', OURS),
  lessonAsk: term('To talk about', 'Questions for the class.', OURS),
  lessonOutside: term(
    'From outside',
    'Values that others published or measured, or another program of ours worked out.',
    OURS,
  ),
  lessonCouplingGap: term('Coupling against gap', `${LESSON_TITLES[0]!}.`, TRADE),
  lessonMutualOffset: term('Mutual inductance against offset', `${LESSON_TITLES[1]!}.`, TRADE),
  lessonCouplingShape: term('Coupling against shape', `${LESSON_TITLES[2]!}.`, TRADE),
  lessonInductanceGap: term('Inductance against gap', `${LESSON_TITLES[3]!}.`, TRADE),
  lessonEfficiencyLoad: term('Link efficiency against load', `${LESSON_TITLES[4]!}.`, TRADE),
  lessonVoltageLoad: term('Rectified voltage against load', `${LESSON_TITLES[5]!}.`, TRADE),
});
