/*
 * Example sketch: a caliper with a clocked data port, bridged by an ATmega328P.
 *
 * The caliper sends frames of 52 bits, each started by its button or a foot switch, or of 24 bits, a few every
 * second by itself; jigtrue.h has both. Common practice, no source. Its clock is on INT0 (PD2) and its data
 * on PD3, both pulled up by the board; a bit is read where the clock falls.
 *
 * A transistor between each of them and the pin turns them round; compile with -DTURNED_ROUND then.
 */
#include "atmega328p.h"

static const char name[] PROGMEM = "caliper bridge";
static const char number[] PROGMEM = "C-0001";
static const char firmware[] PROGMEM = "1.0";
static const char bad_frame[] PROGMEM = "frame did not fit";
static const char at_caliper[] PROGMEM = "zero at the caliper";
static const char by_button[] PROGMEM = "sends when button pressed";
static const char nothing[] PROGMEM = "";

#ifdef TURNED_ROUND
#define CLOCK_FALLS (_BV(ISC01) | _BV(ISC00))
#define DATA_IS_HIGH(pins) (!((pins) & _BV(PD3)))
#else
#define CLOCK_FALLS _BV(ISC01)
#define DATA_IS_HIGH(pins) ((pins) & _BV(PD3))
#endif

#define NIBBLES JIGTRUE_CALIPER_NIBBLES
#define FRAME_GAP_MS 20u

static jigtrue_board board;
static volatile uint8_t coming_in[NIBBLES];
static volatile uint8_t bits;
static volatile uint32_t last_bit_ms;
static uint16_t flags = JIGTRUE_RESTARTED;

ISR(INT0_vect) {
    uint8_t at = bits / 4u;
    if (milliseconds - last_bit_ms > FRAME_GAP_MS) {
        bits = 0;
        at = 0;
    }
    last_bit_ms = milliseconds;
    if (at < NIBBLES) {
        uint8_t mask = (uint8_t)(1u << (bits % 4u));
        if (DATA_IS_HIGH(PIND)) {
            coming_in[at] |= mask;
        } else {
            coming_in[at] &= (uint8_t)~mask;
        }
    }
    if (bits < 255u) {
        bits++;
    }
}

/* Sends the value of a whole frame, or says that it did not fit. */
static void send_frame(const uint8_t *nibbles, uint8_t count) {
    jigtrue_value value;
    if (!jigtrue_caliper(nibbles, count, &value)) {
        send_surely(board.line, jigtrue_fault_rom(&board, now_ms(), JIGTRUE_INPUT, bad_frame));
        return;
    }
    send_surely(board.line, jigtrue_sample(&board, now_ms(), JIGTRUE_LENGTH, value.mantissa, value.exponent,
                                           value.unit, flags));
    flags = 0;
}

static void answer(uint8_t outcome, const char *detail) {
    send_surely(board.line, jigtrue_answer_rom(&board, now_ms(), outcome, detail));
}

static void identify(void) {
    send_surely(board.line, jigtrue_identify_rom(&board, now_ms(), name, number, firmware));
    send_surely(board.line, jigtrue_status(&board, now_ms(), 0, flags));
}

static void carry_out(void) {
    switch (board.asked) {
    case JIGTRUE_ASK_IDENTIFY:
        identify();
        answer(JIGTRUE_DONE, nothing);
        break;
    case JIGTRUE_ASK_ZERO:
        answer(JIGTRUE_REFUSED, at_caliper);
        break;
    case JIGTRUE_ASK_RATE:
        answer(JIGTRUE_REFUSED, by_button);
        break;
    default:
        answer(JIGTRUE_UNKNOWN, nothing);
        break;
    }
}

int main(void) {
    char byte;
    PORTD = _BV(PD2) | _BV(PD3);
    EICRA = CLOCK_FALLS;
    EIMSK = _BV(INT0);
    start_clock_and_line();
    jigtrue_start(&board);
    identify();
    for (;;) {
        uint8_t nibbles[NIBBLES];
        uint8_t count = 0;
        uint8_t at;
        while (heard(&byte)) {
            uint8_t what = jigtrue_received(&board, byte);
            if (what == JIGTRUE_COMMAND) {
                carry_out();
            } else if (what == JIGTRUE_AGAIN) {
                send_surely(board.line, jigtrue_answer_again(&board, now_ms()));
            }
        }
        cli();
        if (milliseconds - last_bit_ms > FRAME_GAP_MS) {
            count = bits;
            bits = 0;
            for (at = 0; at < NIBBLES; at++) {
                nibbles[at] = coming_in[at];
            }
        }
        sei();
        if (count > 0) {
            send_frame(nibbles, count);
        }
    }
}
