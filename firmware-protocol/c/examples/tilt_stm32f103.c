/*
 * Example sketch: an analogue tilt sensor on an STM32F103, a Cortex-M3.
 *
 * The sensor gives 0.33 V at -30 degrees and 2.97 V at +30 degrees, in a straight line, on PA0, with the board's 3.3 V as
 * reference. Sixteen conversions of twelve bits are summed, so that a step is about 0.001 degree. Under 0.17 V or over
 * 3.13 V there is no sensor on the wire, and that is said instead of a value.
 */
#include "stm32f103.h"

static jigtrue_board board;
static int32_t zero_mdeg;
static uint16_t interval_ms = 100;
static uint16_t flags = JIGTRUE_RESTARTED;
static uint8_t sensor_lost;

/* The sum of 16 conversions of twelve bits: 65536 would be 3.3 V. */
static uint32_t sum_of_16(void) {
    uint32_t sum = 0;
    uint8_t n;
    for (n = 0; n < 16; n++) {
        ADC_CONTROL |= 1u << 22;
        while (!(ADC_STATE & 1u << 1)) {
        }
        sum += ADC_VALUE & 0xFFFu;
    }
    return sum;
}

/* Millidegrees from the sum: 65536 are 75 degrees and the middle is 0; halves away from zero. */
static int32_t millidegrees(uint32_t sum) {
    uint8_t negative = sum < 32768u;
    uint32_t from_middle = negative ? 32768u - sum : sum - 32768u;
    int32_t size = (int32_t)((from_middle * 75000u + 32768u) >> 16);
    return negative ? -size : size;
}

static void measure(void) {
    uint32_t sum = sum_of_16();
    uint16_t range = (sum < 6554u || sum > 58982u) ? JIGTRUE_OVER_RANGE : 0u;
    if (sum < 3277u || sum > 62259u) {
        if (!sensor_lost) {
            send(board.line, jigtrue_fault(&board, now_ms(), JIGTRUE_SENSOR, "no voltage from sensor"));
        }
        sensor_lost = 1;
        return;
    }
    sensor_lost = 0;
    send(board.line, jigtrue_sample(&board, now_ms(), JIGTRUE_ANGLE, millidegrees(sum) - zero_mdeg, -3,
                                    JIGTRUE_DEGREES, (uint16_t)(flags | range)));
    flags &= (uint16_t)~JIGTRUE_RESTARTED;
}

static void identify(void) {
    send(board.line, jigtrue_identify(&board, now_ms(), "tilt sensor", "T-0002", "1.0"));
    send(board.line, jigtrue_status(&board, now_ms(), interval_ms, flags));
}

static void answer(uint8_t outcome, const char *detail) {
    send(board.line, jigtrue_answer(&board, now_ms(), outcome, detail));
}

static void carry_out(void) {
    switch (board.asked) {
    case JIGTRUE_ASK_IDENTIFY:
        identify();
        answer(JIGTRUE_DONE, "");
        break;
    case JIGTRUE_ASK_ZERO:
        if (sensor_lost) {
            answer(JIGTRUE_REFUSED, "no voltage from sensor");
        } else {
            zero_mdeg = millidegrees(sum_of_16());
            flags |= JIGTRUE_ZEROED;
            answer(JIGTRUE_DONE, "");
        }
        break;
    case JIGTRUE_ASK_RATE:
        if (board.interval_ms < 20u) {
            answer(JIGTRUE_REFUSED, "20 ms or more");
        } else {
            interval_ms = board.interval_ms;
            answer(JIGTRUE_DONE, "");
        }
        break;
    default:
        answer(JIGTRUE_UNKNOWN, "");
        break;
    }
}

int main(void) {
    uint32_t next = 0;
    start_clock_and_line();
    PINS_A_LOW &= ~0xFu; /* PA0 is analogue */
    ADC_SLOWLY = 7u;     /* the longest sampling time for channel 0 */
    ADC_CHANNEL = 0;
    ADC_CONTROL = 1u | 7u << 17 | 1u << 20; /* on, started by software */
    jigtrue_start(&board);
    while (now_ms() < 2u) {
    }
    identify();
    for (;;) {
        char byte;
        while (heard(&byte)) {
            uint8_t what = jigtrue_received(&board, byte);
            if (what == JIGTRUE_COMMAND) {
                carry_out();
            } else if (what == JIGTRUE_AGAIN) {
                send(board.line, jigtrue_answer_again(&board, now_ms()));
            }
        }
        if ((int32_t)(now_ms() - next) >= 0) {
            next = now_ms() + interval_ms;
            measure();
        }
    }
}
