// The steps by their keys.

import { crossing } from "./crossing.js";
import { depth } from "./depth.js";
import { distance } from "./distance.js";
import { greys } from "./greys.js";
import { kinds } from "./kinds.js";
import { order } from "./order.js";
import { pastel } from "./pastel.js";
import { sideBySide } from "./side_by_side.js";
import { task } from "./task.js";
import { threads } from "./threads.js";
import { vision } from "./vision.js";

/** @import { LessonData, Rgb, StepCode, StepData } from "../types.js" */

/** @type {Record<string, StepCode>} */
export const STEPS = { crossing, kinds, greys, order, depth, pastel, threads, distance, side_by_side: sideBySide, vision, task };

/**
 * All that a step shows at colours and sliders: the one way in for tests.
 * @param {LessonData} data
 * @param {StepData} step
 * @param {Record<string, Rgb>} rgb
 * @param {Record<string, string>} called
 * @param {Record<string, number>} at
 */
export function workOut(data, step, rgb, called, at) {
  const setting = { rgb, called, at, options: step.options, mixings: data.mixings };
  const { work, answer, choices } = STEPS[step.key];
  return { ...work(setting), answer: answer(setting), choices: choices?.(setting) ?? [] };
}
