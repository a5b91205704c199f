/* Usual strengths of a base metal and a wire class, for the hinge check. Internal to app/. */
#ifndef APP_STRENGTHS_H
#define APP_STRENGTHS_H

/*
 * MPa. NAN when the name is not known. Minimum yield of EN 10025-2 (up to 16 mm) and ASTM A36;
 * minimum tensile strength of weld metal by AWS A5.18, A5.20 and EN ISO 14341. [mem]
 */
double strength_yield_of(const char *base_metal);
double strength_weld_of(const char *wire_class);

#endif
