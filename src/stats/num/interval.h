/*
 * Every interval the program gives is a 90 % one: a twentieth of the probability lies below it and
 * a twentieth above.
 */
#ifndef STATS_NUM_INTERVAL_H
#define STATS_NUM_INTERVAL_H

#define INTERVAL_WORDS "90 %"
#define INTERVAL_LOW 0.05
#define INTERVAL_HIGH 0.95
#define INTERVAL_REACH                                                                             \
    1.645 /* half its width, of a normal distribution, in standard deviations                      \
           */

#endif
