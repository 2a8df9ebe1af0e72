/*
 * Example sketch: an analogue tilt sensor on an ATmega328P.
 *
 * The sensor gives 0.5 V at -30 degrees and 4.5 V at +30 degrees, in a straight line, on ADC0, with the
 * 5 V supply as reference. Sixty-four conversions are summed, so that a step is about 0.001 degree.
 * Under 0.25 V or over 4.75 V there is no sensor on the wire, and that is said instead of a value.
 */
#include "atmega328p.h"

static const char name[] PROGMEM = "tilt sensor";
static const char number[] PROGMEM = "T-0001";
static const char firmware[] PROGMEM = "1.0";
static const char no_sensor[] PROGMEM = "no voltage from sensor";
static const char too_fast[] PROGMEM = "20 ms or more";
static const char nothing[] PROGMEM = "";

static jigtrue_board board;
static int32_t zero_mdeg;
static uint16_t interval_ms = 100;
static uint16_t flags = JIGTRUE_RESTARTED;
static uint8_t sensor_lost;

/* The sum of 64 conversions of ten bits: 65536 would be 5 V. */
static uint16_t sum_of_64(void) {
    uint16_t sum = 0;
    uint8_t n;
    for (n = 0; n < 64; n++) {
        ADCSRA |= _BV(ADSC);
        while (ADCSRA & _BV(ADSC)) {
        }
        sum = (uint16_t)(sum + ADC);
    }
    return sum;
}

/* Millidegrees from the sum: 65536 are 75 degrees and the middle is 0; halves away from zero. */
static int32_t millidegrees(uint16_t sum) {
    uint8_t negative = sum < 32768u;
    uint32_t from_middle = negative ? 32768u - (uint32_t)sum : (uint32_t)sum - 32768u;
    int32_t size = (int32_t)((from_middle * 75000u + 32768u) >> 16);
    return negative ? -size : size;
}

static void measure(void) {
    uint16_t sum = sum_of_64();
    if (sum < 3277u || sum > 62259u) {
        if (!sensor_lost) {
            send_surely(board.line, jigtrue_fault_rom(&board, now_ms(), JIGTRUE_SENSOR, no_sensor));
        }
        sensor_lost = 1;
        return;
    }
    sensor_lost = 0;
    uint16_t range = (sum < 6554u || sum > 58982u) ? JIGTRUE_OVER_RANGE : 0u;
    uint8_t length = jigtrue_sample(&board, now_ms(), JIGTRUE_ANGLE, millidegrees(sum) - zero_mdeg, -3,
                                    JIGTRUE_DEGREES, (uint16_t)(flags | range));
    if (send(board.line, length)) {
        flags &= (uint16_t)~JIGTRUE_RESTARTED;
    } else {
        board.dropped++;
    }
}

static void identify(void) {
    send_surely(board.line, jigtrue_identify_rom(&board, now_ms(), name, number, firmware));
    send_surely(board.line, jigtrue_status(&board, now_ms(), interval_ms, flags));
}

static void answer(uint8_t outcome, const char *detail) {
    send_surely(board.line, jigtrue_answer_rom(&board, now_ms(), outcome, detail));
}

static void carry_out(void) {
    switch (board.asked) {
    case JIGTRUE_ASK_IDENTIFY:
        identify();
        answer(JIGTRUE_DONE, nothing);
        break;
    case JIGTRUE_ASK_ZERO:
        if (sensor_lost) {
            answer(JIGTRUE_REFUSED, no_sensor);
        } else {
            zero_mdeg = millidegrees(sum_of_64());
            flags |= JIGTRUE_ZEROED;
            answer(JIGTRUE_DONE, nothing);
        }
        break;
    case JIGTRUE_ASK_RATE:
        if (board.interval_ms < 20u) {
            answer(JIGTRUE_REFUSED, too_fast);
        } else {
            interval_ms = board.interval_ms;
            answer(JIGTRUE_DONE, nothing);
        }
        break;
    default:
        answer(JIGTRUE_UNKNOWN, nothing);
        break;
    }
}

int main(void) {
    uint32_t next = 0;
    char byte;
    ADMUX = _BV(REFS0);
    ADCSRA = _BV(ADEN) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
    start_clock_and_line();
    jigtrue_start(&board);
    identify();
    for (;;) {
        while (heard(&byte)) {
            uint8_t what = jigtrue_received(&board, byte);
            if (what == JIGTRUE_COMMAND) {
                carry_out();
            } else if (what == JIGTRUE_AGAIN) {
                send_surely(board.line, jigtrue_answer_again(&board, now_ms()));
            }
        }
        if ((int32_t)(now_ms() - next) >= 0) {
            next = now_ms() + interval_ms;
            measure();
        }
    }
}
