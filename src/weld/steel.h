/*
 * Carbon equivalents, and preheat by EN 1011-2:2001 Method B. Contents in mass %.
 *
 *   CE(IIW) = C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15          EN 1011-2 C.2 (Method A)
 *   CET     = C + (Mn+Mo)/10 + (Cr+Cu)/20 + Ni/40          EN 1011-2 C.3 (Method B)
 *             (a copy with the last term over 10 goes round; it is wrong)
 *   Pcm     = C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5·B   Ito & Bessyo; AWS D1.1
 *   Tp      = 697·CET + 160·tanh(d/35) + 62·HD^0.35 + (53·CET − 32)·Q − 328 °C   EN 1011-2 C.3
 *             (a copy with tanh(35/d) goes round; it is wrong)
 *
 * Range of Tp: d 10 … 90 mm, CET 0.2 … 0.5, Q 0.5 … 4 kJ/mm [mem], HD 1 … 20 ml/100 g. Outside it
 * no temperature is given. On 2–10 mm mild steel no published rule asks for preheat: there it is
 * a variable of the trial.
 * Ranges of composition [mem]; outside them the sum is still given:
 *   CE(IIW), Method A  C 0.05–0.25, Si ≤ 0.8, Mn ≤ 1.7, Cr ≤ 0.9, Cu ≤ 1.0, Ni ≤ 2.5, Mo ≤ 0.75,
 *                      V ≤ 0.20
 *   CET, Method B      C 0.05–0.32, Si ≤ 0.8, Mn 0.5–1.9, Cr ≤ 1.5, Cu ≤ 0.7, Mo ≤ 0.75, Ni ≤ 2.5,
 *                      V ≤ 0.18, B ≤ 0.005
 *   Pcm                C 0.07–0.22, Si ≤ 0.6, Mn 0.4–1.4, Cu ≤ 0.5, Ni ≤ 1.2, Cr ≤ 1.2, Mo ≤ 0.7,
 *                      V ≤ 0.12, B ≤ 0.005
 */
#ifndef WELD_STEEL_H
#define WELD_STEEL_H

#include "model/units.h"

/* clang-format off */
enum steel_element {
    STEEL_C, STEEL_MN, STEEL_SI, STEEL_CR, STEEL_MO, STEEL_V, STEEL_NI, STEEL_CU, STEEL_B,
    STEEL_ELEMENTS
};
/* clang-format on */

enum steel_formula { STEEL_CE_IIW, STEEL_CET, STEEL_PCM, STEEL_FORMULAS };

struct carbon {
    double value;        /* mass %; NAN when a content is not within 0 … 100 or all are 0 */
    const char *outside; /* NULL inside the composition range of its standard; else why */
};

/* `content` by element, mass %; 0 for one that is not known. */
struct carbon steel_carbon(enum steel_formula formula, const double content[STEEL_ELEMENTS]);

struct preheat {
    struct celsius temperature; /* NAN outside the range; may be below that of any plate */
    const char *outside;
};

struct preheat steel_preheat(double cet, struct mm thickness, struct ml_per_100g hydrogen,
                             struct kj_per_mm heat_input);

#endif
