// What the kernel and the page tell each other, as types; nothing of this runs.

/** @import { Laid, SentLaid } from "../shared/cloth.js" */
/** @import { Cloth } from "../shared/edits.js" */
/** @import { SentRecipe, Stock } from "../shared/mixing.js" */
/** @import { PressGuard } from "../shared/press_guard.js" */
/** @import { WallTones } from "./tones.js" */

/**
 * @typedef {object} Choices what the settings may be
 * @property {[string, number][]} sizes check sizes: text and inches, rising
 * @property {[number, number]} stripes least and most
 * @property {string[]} palettes
 * @property {[string, string][]} grounds name and words
 * @property {[name: string, words: string, meaning: string, recipe?: SentRecipe][]} mixings
 * @property {[text: string, words: string, numbers: Stock][]} [stocks] what inks may be printed on
 * @property {number[]} counts how many colourways at most
 * @property {FindChoices} find what the wall can be searched for
 *
 * @typedef {object} FindChoices
 * @property {[key: string, words: string][]} goals {} stands for how many there are
 * @property {[name: string, words: string, most: number, plain: string, nothing: number][]} conditions
 * @property {[name: string, words: string][]} visions
 * @property {string} note
 *
 * @typedef {{words: string, button: string, at_least: Record<string, number>}} FindOffer
 *
 * @typedef {object} FindState how the search of the wall goes
 * @property {boolean} [running]
 * @property {number} [share] of it that is done
 * @property {string} [words]
 * @property {boolean} [wrong]
 * @property {FindOffer[]} [offers] what would hold, where nothing did
 *
 * @typedef {object} Limit a column of scores that hides what is under a value
 * @property {string} column
 * @property {string} words
 *
 * @typedef {object} Staying a colour that new draws leave alone
 * @property {number} part
 * @property {string} words
 *
 * @typedef {object} Offer a set that an earlier session kept
 * @property {string} file
 * @property {string} words
 * @property {string} fault
 *
 * @typedef {object} Facts what stands around the wall
 * @property {string} dealt
 * @property {string} [source] what was searched for its best, in few words; "" of a draw
 * @property {string} undo
 * @property {string} redo
 * @property {string} sort
 * @property {Limit[]} limits
 * @property {Staying[]} staying
 * @property {number[]} compared
 * @property {string} message
 * @property {string} saved
 * @property {boolean} retired
 * @property {Offer[]} offer
 * @property {string[]} left_out a line for each palette that could not be read
 * @property {string[]} [families] of the range
 * @property {Record<string, string>} [kept_names] of what is on the wall and kept under a name, by number
 * @property {{name: string, file: string}} [range]
 * @property {[name: string, colours: number][]} [palettes]
 * @property {number} [palette_changes] counts up with every change of a palette
 * @property {string} [press_chart] name of the chart that was chosen of a measured press, or ""
 * @property {[file: string, why: string][]} [faults] palettes that could not be read
 * @property {string} [client] what the client said of the range as a whole
 * @property {number[]} [own] what is by hand on the wall: its strength is not the wall's
 *
 * @typedef {object} KeptCard
 * @property {number} number
 * @property {string} name
 * @property {string} title
 * @property {string} words
 * @property {string} note
 * @property {number} count stripes
 * @property {number} [wefts] stripes of the weft's own, or 0
 * @property {SentRecipe} recipe
 * @property {number} strength
 * @property {string} [family] "" by itself
 * @property {[name: string, hex: string][]} [stripes]
 * @property {[name: string, hex: string][]} [weft] colours of its own
 * @property {[name: string, hex: string]} [ground]
 * @property {"" | "yes" | "maybe" | "no"} [answer] what the client said of it
 * @property {string} [remark] what the client wrote
 *
 * @typedef {object} Traits
 * @property {string} size
 * @property {number | null} strength of the whole wall, or null where each has its own
 * @property {number} stripes
 * @property {string} palette
 * @property {string} ground "" where it is drawn as well
 * @property {string} mixing "" where each is as it came
 * @property {string | null} [stock] what inks are printed on, or null where each has its own
 * @property {number} count
 * @property {string} bands order of the stripes: a preset's name, or a colour order in letters
 * @property {string} weft the same of the weft; "" where it runs as the warp
 * @property {number} [weft_colours] of the weft's own in draws; 0, it has the warp's
 * @property {Choices} choices
 * @property {number} dealt
 * @property {DataView} counts
 * @property {number[]} numbers
 * @property {string[]} names
 * @property {DataView} [weft_counts] stripes of each weft's own; none where no weft has any
 * @property {SentLaid} [laid]
 * @property {SentRecipe[]} recipes
 * @property {DataView} recipe_of
 * @property {DataView} strengths
 * @property {DataView} colours
 * @property {number} stamp
 * @property {string} vision
 * @property {string} light
 * @property {number[]} order
 * @property {[index: number, why: string][]} hidden
 * @property {string[]} figures
 * @property {string} figure_words
 * @property {Record<string, number>} marks
 * @property {KeptCard[]} kept
 * @property {DataView} kept_colours
 * @property {Facts} facts
 * @property {FindState} find
 * @property {Record<string, string | boolean>} export the fields of the export
 * @property {Exporting} exporting
 * @property {[string, string][]} columns
 * @property {[string, string][]} visions
 * @property {[string, string][]} lights
 * @property {number} born
 *
 * @typedef {object} Exporting how far an export is, and what it wrote
 * @property {boolean} running
 * @property {number} [done]
 * @property {number} [total]
 * @property {string} [words]
 * @property {boolean} [alert]
 * @property {Record<string, string>} [faults] by field, what was wrong when it was begun
 * @property {{words: string, notes: string[], folder: string,
 *   tasks: [task: string, words: string, files: number, size: string, first: string[]][]} | null} [made]
 *
 * @typedef {object} Model the kernel's side of the desk, as its widget manager hands it to the page
 * @property {<K extends keyof Traits>(key: K) => Traits[K]} get
 * @property {<K extends keyof Traits>(key: K, value: Traits[K]) => void} set
 * @property {() => void} save_changes
 * @property {(content: object, callbacks?: object, buffers?: ArrayBuffer[]) => void} send
 * @property {(event: string, act: (...values: any[]) => void) => void} on
 * @property {(event: string, act: (...values: any[]) => void) => void} off
 *
 * @typedef {object} Details what the kernel says about a colourway that is looked at
 * @property {number} number
 * @property {number} kept the number under which it is kept, or 0
 * @property {string} name
 * @property {string} title
 * @property {string} words
 * @property {string} note
 * @property {number} count stripes
 * @property {number} [wefts] stripes of the weft's own, or 0
 * @property {[name: string, hex: string][]} [weft] their colours
 * @property {boolean} compared
 * @property {SentRecipe} recipe how it is mixed now
 * @property {number} strength as it is mixed now
 * @property {string} [stock] what its inks are printed on, in words
 * @property {boolean} own by hand: what is set above the wall leaves it alone
 * @property {[name: string, hex: string, stays: boolean]} ground
 * @property {[name: string, hex: string, stays: boolean][]} stripes
 * @property {[kind: "caution" | "comfort" | "fact", text: string, short?: string][]} remarks
 * @property {[name: string, hex: string][]} tones
 * @property {string[][]} figures
 * @property {string} yardstick
 * @property {Record<string, string>} view_words
 * @property {ArrayBufferView[]} [buffers] its tones, as each of VISIONS sees them; its colours, encoded
 *   for its recipe, as in `Traits.colours`
 *
 * @typedef {{number: number, gone: true}} Gone the answer about one that has left the desk
 *
 * @typedef {object} Desk what the parts of a desk share
 * @property {Model} model
 * @property {WallTones} tones of the wall
 * @property {number} inches check size
 * @property {number | undefined} number what keys act on
 * @property {(stripes: number, wefts?: number) => Laid} laid
 * @property {(laid: SentLaid | null) => void} tryBands lay the desk's check so until the kernel has answered
 * @property {Cloth | null} clothInHand
 * @property {(laid: Laid) => string} repeatWords
 * @property {(number: number, bytes: Uint8Array) => void} mirror show a card of the wall so, until
 *   the kernel tells of it
 * @property {(number: number) => string} titleOf
 * @property {(number: number) => string} letterOf its letter among those side by side, or ""
 * @property {(number: number) => Promise<Details | Gone>} ask
 * @property {(what: string, number?: number, fields?: object) => Promise<void>} act
 * @property {PressGuard} guard
 * @property {(what: string, fields: object, files?: ArrayBuffer[]) => Promise<any>} request answers; rejects where it is refused
 * @property {<K extends keyof Traits>(trait: K, value: Traits[K]) => void} change
 * @property {(number: number) => void} lookAt
 * @property {(number: number | undefined) => void} pointAt look at it, unless that is done already
 * @property {number | null} partInHand what is chosen of the cloth under the hand
 * @property {(palette: string, index: number, colour: {name: string, hex: string}) => void} putInHand
 * @property {() => void} sayPart say anew what is chosen of it
 * @property {(key: string) => void} showPart turn to another part of the desk
 * @property {() => void} showSideBySide
 * @property {() => void} enlarge
 * @property {() => void} backToWall
 * @property {(which: "name" | "note") => void} typeInto
 * @property {(number: number) => void} nameInRange turn to where a kept one is named
 * @property {() => void} showKeys
 * @property {() => void} measure
 */

export {};
