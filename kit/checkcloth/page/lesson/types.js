// Types only: what the kernel's data hold and what a step hands to the page.

/** @import { Recipe } from "../shared/mixing.js" */

/**
 * @typedef {[number, number, number]} Rgb encoded sRGB, 0 to 1
 *
 * @typedef {Recipe & {label: string, hint: string}} Way
 *
 * @typedef {object} SliderData
 * @property {string} key
 * @property {string} name
 * @property {number} value
 * @property {number} low
 * @property {number} high
 * @property {number} step
 * @property {string} unit
 * @property {string[]} labels
 *
 * @typedef {object} BoxData
 * @property {string} label
 * @property {string} unit
 * @property {string} slider
 * @property {string} choice
 *
 * @typedef {object} StepData
 * @property {string} key
 * @property {number} number
 * @property {string} title
 * @property {string} words
 * @property {string} question
 * @property {BoxData[]} boxes
 * @property {SliderData[]} sliders
 * @property {[string, string, string][]} fields key, label, colour's name
 * @property {[string, Rgb][]} named
 * @property {Record<string, any>} options
 *
 * @typedef {object} LessonData
 * @property {string} introduction
 * @property {string} caution
 * @property {boolean} alone
 * @property {Way[]} mixings
 * @property {[string, Rgb][]} swatches
 * @property {Record<string, string>} names
 * @property {StepData[]} steps
 */

/**
 * What a step works with: its colours, what they are called, where its sliders stand.
 * @typedef {object} Setting
 * @property {Record<string, Rgb>} rgb
 * @property {Record<string, string>} called
 * @property {Record<string, number>} at
 * @property {Record<string, any>} options
 * @property {Way[]} mixings
 *
 * A word on a picture, at per cents of its width and height; bare ones stand on no paper.
 * @typedef {{text: string, x: number, y: number, bare?: boolean, start?: boolean, end?: boolean}} Tag
 *
 * @typedef {object} Picture
 * @property {string} label what it shows, for whoever cannot see it
 * @property {string} caption
 * @property {string} [shape] class
 * @property {Tag[]} [tags]
 * @property {{width: number, height: number, data: Uint8ClampedArray, smooth?: boolean}} [image]
 * @property {{width: number, height: number, shapes: [string, Record<string, string | number | Rgb>][]}} [drawing]
 * @property {[number, number, number, number]} [frame] left, top, width, height in per cent
 *
 * @typedef {{name: string, chip?: Rgb, cells: string[]}} Row
 *
 * @typedef {object} Work
 * @property {Picture[]} pictures
 * @property {{caption: string, heads: string[], rows: Row[]}} sums
 * @property {string} said
 * @property {string} [layout] class of the row of pictures
 * @property {{met: boolean, words: string, value: number, wanted: number, most: number}[]} [goals]
 *
 * @typedef {object} StepCode
 * @property {(setting: Setting) => Work} work
 * @property {(setting: Setting) => string} answer
 * @property {(setting: Setting) => string[]} [choices] what the question's list offers
 */

export {};
