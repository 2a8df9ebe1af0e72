/*
 * jigtrue.h - lines of the jigtrue protocol, version 1, for a small board.
 *
 * One header of C99. No C library, no floating point, no allocation; all state is in one
 * jigtrue_board that you own. Not for use from two interrupts at once.
 *
 *   static jigtrue_board board;
 *   jigtrue_start(&board);
 *   send(board.line, jigtrue_identify(&board, now_ms, "tilt", "0001", "1.0"));
 *   send(board.line, jigtrue_sample(&board, now_ms, JIGTRUE_ANGLE, -1234, -3, JIGTRUE_DEGREES, 0));
 *
 * Each of these writes one whole line into board.line and returns its length. Send it whole or not
 * at all; if it cannot be sent, count it: board.dropped++.
 *
 * On a board that reads constants in flash by instructions of their own, define JIGTRUE_ROM and
 * JIGTRUE_READ first (on AVR: PROGMEM and pgm_read_byte): the words of the protocol then need no RAM.
 * Texts you pass are plain ones in RAM; functions whose names end in _rom take texts that are declared
 * with JIGTRUE_ROM. Elsewhere the two are the same.
 *
 * A number that is not in the lists below is never looked up: the functions then return 0, and
 * board.line holds nothing to send.
 *
 * A board that hears no commands needs less RAM: define JIGTRUE_SENDS_ONLY first.
 */
#ifndef JIGTRUE_H
#define JIGTRUE_H

#include <stdint.h>

#ifndef JIGTRUE_ROM
#define JIGTRUE_ROM
#define JIGTRUE_READ(address) (*(address))
#endif

/* The longest line a board sends, and the longest it must be able to hear. */
#define JIGTRUE_LINE_MAX 96u
#define JIGTRUE_COMMAND_MAX 40u

/* What is measured. */
enum { JIGTRUE_ANGLE, JIGTRUE_CROSS, JIGTRUE_LENGTH, JIGTRUE_TEMPERATURE, JIGTRUE_TORQUE, JIGTRUE_FORCE };

/* Units. */
enum {
    JIGTRUE_DEGREES,
    JIGTRUE_MM_PER_M,
    JIGTRUE_MM,
    JIGTRUE_INCHES,
    JIGTRUE_CELSIUS,
    JIGTRUE_NEWTON_METRES,
    JIGTRUE_INCH_POUNDS,
    JIGTRUE_NEWTONS,
    JIGTRUE_POUNDS_FORCE
};

/* Flags of a sample and of a status; the first four bar a value from being taken as a reading. */
#define JIGTRUE_BATTERY_FLAT 0x0001u
#define JIGTRUE_HELD 0x0002u
#define JIGTRUE_OVER_RANGE 0x0004u
#define JIGTRUE_WARMING_UP 0x0008u
#define JIGTRUE_BATTERY_LOW 0x0100u
#define JIGTRUE_MOVING 0x0200u
#define JIGTRUE_RESTARTED 0x0400u
#define JIGTRUE_ZEROED 0x0800u

/* What is wrong. */
enum { JIGTRUE_SENSOR, JIGTRUE_RANGE, JIGTRUE_SUPPLY, JIGTRUE_INPUT, JIGTRUE_OTHER };

/* What became of a command. */
enum { JIGTRUE_DONE, JIGTRUE_REFUSED, JIGTRUE_UNKNOWN };

/* What is asked. */
enum { JIGTRUE_ASK_IDENTIFY, JIGTRUE_ASK_ZERO, JIGTRUE_ASK_RATE, JIGTRUE_ASK_UNKNOWN };

/* What a received byte completed. */
enum {
    JIGTRUE_NOTHING, /* nothing yet */
    JIGTRUE_COMMAND, /* a command: carry out board.asked, then send jigtrue_answer */
    JIGTRUE_AGAIN    /* the same command again: only send jigtrue_answer_again */
};

typedef struct {
    char line[JIGTRUE_LINE_MAX]; /* the line written last */
    uint32_t sequence;           /* of the next line */
    uint32_t dropped;            /* samples not sent because the line was busy: yours to count */
    uint8_t length;
#ifndef JIGTRUE_SENDS_ONLY
    uint16_t command;     /* number of the command asked last */
    uint16_t interval_ms; /* with JIGTRUE_ASK_RATE: what is asked */
    uint8_t asked;        /* JIGTRUE_ASK_...: what is asked */
    uint8_t outcome;      /* of the command answered last */
    uint8_t heard;        /* bytes of a command so far; 0 outside one */
    uint8_t has_command;  /* a command has been answered since the start */
    char command_line[JIGTRUE_COMMAND_MAX];
#endif
} jigtrue_board;

static const char jigtrue_kinds[] JIGTRUE_ROM = "sample\0identify\0status\0fault\0answer\0command";
static const char jigtrue_quantities[] JIGTRUE_ROM = "angle\0cross\0length\0temperature\0torque\0force";
static const char jigtrue_units[] JIGTRUE_ROM = "deg\0mm/m\0mm\0in\0degC\0N.m\0in-lb\0N\0lbf";
static const char jigtrue_faults[] JIGTRUE_ROM = "sensor\0range\0supply\0input\0other";
static const char jigtrue_letters[] JIGTRUE_ROM = "BHOW....lmrz....";
#ifndef JIGTRUE_SENDS_ONLY
static const char jigtrue_outcomes[] JIGTRUE_ROM = "done\0refused\0unknown";
static const char jigtrue_requests[] JIGTRUE_ROM = "identify\0zero\0rate";
static const char jigtrue_dash[] JIGTRUE_ROM = "-";
#endif

/* The powers of ten from 10^9 to 10, low byte first. */
static const uint8_t jigtrue_powers[] JIGTRUE_ROM = {
    0x00, 0xCA, 0x9A, 0x3B, 0x00, 0xE1, 0xF5, 0x05, 0x80, 0x96, 0x98, 0x00, 0x40, 0x42, 0x0F, 0x00, 0xA0, 0x86,
    0x01, 0x00, 0x10, 0x27, 0x00, 0x00, 0xE8, 0x03, 0x00, 0x00, 0x64, 0x00, 0x00, 0x00, 0x0A, 0x00, 0x00, 0x00};

/* CRC-16/IBM-3740 after one more byte. */
static inline uint16_t jigtrue_crc(uint16_t crc, uint8_t byte) {
    uint8_t x = (uint8_t)((uint8_t)(crc >> 8) ^ byte);
    uint8_t high, low;
    x = (uint8_t)(x ^ (x >> 4));
    high = (uint8_t)((uint8_t)crc ^ (uint8_t)(x << 4) ^ (uint8_t)(x >> 3));
    low = (uint8_t)(x ^ (uint8_t)(x << 5));
    return (uint16_t)((uint16_t)((uint16_t)high << 8) | low);
}

/* ---- writing a line ------------------------------------------------------------------------ */

static inline void jigtrue_put(jigtrue_board *board, char byte) {
    if (board->length < JIGTRUE_LINE_MAX) {
        board->line[board->length] = byte;
        board->length++;
    }
}

/* Where a text is. */
enum { JIGTRUE_IN_RAM, JIGTRUE_IN_ROM };

static inline char jigtrue_byte(const char *text, uint8_t where) {
    return where == JIGTRUE_IN_ROM ? (char)JIGTRUE_READ(text) : *text;
}

/* A text of at most `longest` characters; what a line cannot carry becomes a space, none a dash. */
static inline void jigtrue_put_text(jigtrue_board *board, const char *text, uint8_t longest, uint8_t where) {
    char byte = jigtrue_byte(text, where);
    jigtrue_put(board, ',');
    if (byte == '\0') {
        jigtrue_put(board, '-');
    }
    while (byte != '\0' && longest > 0) {
        uint8_t plain = byte >= ' ' && byte <= '}' && byte != ',' && byte != '*';
        jigtrue_put(board, plain ? byte : ' ');
        text++;
        longest--;
        byte = jigtrue_byte(text, where);
    }
}

/* The nth word of a list whose words end in a zero byte. */
static inline const char *jigtrue_word(const char *words, uint8_t nth) {
    while (nth > 0) {
        if ((char)JIGTRUE_READ(words) == '\0') {
            nth--;
        }
        words++;
    }
    return words;
}

static inline void jigtrue_put_word(jigtrue_board *board, const char *words, uint8_t nth) {
    jigtrue_put_text(board, jigtrue_word(words, nth), JIGTRUE_LINE_MAX, JIGTRUE_IN_ROM);
}

/* Digits by taking away powers of ten: no division, which a small board does slowly. */
static inline void jigtrue_put_digits(jigtrue_board *board, uint32_t number) {
    uint8_t begun = 0;
    uint8_t at;
    for (at = 0; at < sizeof jigtrue_powers; at = (uint8_t)(at + 4u)) {
        const uint8_t *bytes = jigtrue_powers + at;
        uint32_t power = (uint32_t)JIGTRUE_READ(bytes) | (uint32_t)JIGTRUE_READ(bytes + 1) << 8 |
                         (uint32_t)JIGTRUE_READ(bytes + 2) << 16 | (uint32_t)JIGTRUE_READ(bytes + 3) << 24;
        char digit = '0';
        while (number >= power) {
            number -= power;
            digit++;
        }
        if (begun || digit != '0') {
            jigtrue_put(board, digit);
            begun = 1;
        }
    }
    jigtrue_put(board, (char)('0' + (char)number));
}

static inline void jigtrue_put_number(jigtrue_board *board, uint32_t number) {
    jigtrue_put(board, ',');
    jigtrue_put_digits(board, number);
}

static inline void jigtrue_put_flags(jigtrue_board *board, uint16_t flags) {
    const char *letter = jigtrue_letters;
    flags &= 0x0F0Fu;
    jigtrue_put(board, ',');
    if (flags == 0) {
        jigtrue_put(board, '-');
    }
    for (; flags != 0; flags = (uint16_t)(flags >> 1)) {
        if (flags & 1u) {
            jigtrue_put(board, (char)JIGTRUE_READ(letter));
        }
        letter++;
    }
}

static inline void jigtrue_begin(jigtrue_board *board, uint32_t now_ms, uint8_t kind) {
    board->length = 0;
    jigtrue_put(board, '~');
    jigtrue_put(board, '1');
    jigtrue_put_word(board, jigtrue_kinds, kind);
    jigtrue_put_number(board, board->sequence);
    jigtrue_put_number(board, now_ms);
    board->sequence++;
}

static inline char jigtrue_hex(uint8_t nibble) {
    return (char)(nibble < 10u ? '0' + nibble : 'A' + (nibble - 10));
}

static inline uint8_t jigtrue_end(jigtrue_board *board) {
    uint16_t crc = 0xFFFFu;
    uint8_t at, digit;
    for (at = 1; at < board->length; at++) {
        crc = jigtrue_crc(crc, (uint8_t)board->line[at]);
    }
    jigtrue_put(board, '*');
    for (digit = 0; digit < 4; digit++) {
        jigtrue_put(board, jigtrue_hex((uint8_t)(crc >> 12)));
        crc = (uint16_t)(crc << 4);
    }
    jigtrue_put(board, '\r');
    jigtrue_put(board, '\n');
    return board->length;
}

/* ---- the lines a board sends --------------------------------------------------------------- */

/* Before anything else. */
static inline void jigtrue_start(jigtrue_board *board) {
    board->sequence = 0;
    board->dropped = 0;
    board->length = 0;
#ifndef JIGTRUE_SENDS_ONLY
    board->heard = 0;
    board->has_command = 0;
    board->asked = JIGTRUE_ASK_UNKNOWN;
    board->outcome = JIGTRUE_UNKNOWN;
#endif
}

static inline uint8_t jigtrue_identify_from(jigtrue_board *board, uint32_t now_ms, const char *name,
                                            const char *number, const char *firmware, uint8_t where) {
    jigtrue_begin(board, now_ms, 1);
    jigtrue_put_text(board, name, 20, where);
    jigtrue_put_text(board, number, 16, where);
    jigtrue_put_text(board, firmware, 12, where);
    return jigtrue_end(board);
}

/* Who the board is: at most 20, 16 and 12 characters. Once after the start, and when asked. */
static inline uint8_t jigtrue_identify(jigtrue_board *board, uint32_t now_ms, const char *name,
                                       const char *number, const char *firmware) {
    return jigtrue_identify_from(board, now_ms, name, number, firmware, JIGTRUE_IN_RAM);
}

static inline uint8_t jigtrue_identify_rom(jigtrue_board *board, uint32_t now_ms, const char *name,
                                           const char *number, const char *firmware) {
    return jigtrue_identify_from(board, now_ms, name, number, firmware, JIGTRUE_IN_ROM);
}

/* What a unit measures. */
static inline uint8_t jigtrue_measured_in(uint8_t unit) {
    switch (unit) {
    case JIGTRUE_DEGREES:
    case JIGTRUE_MM_PER_M:
        return JIGTRUE_ANGLE;
    case JIGTRUE_MM:
    case JIGTRUE_INCHES:
        return JIGTRUE_LENGTH;
    case JIGTRUE_CELSIUS:
        return JIGTRUE_TEMPERATURE;
    case JIGTRUE_NEWTON_METRES:
    case JIGTRUE_INCH_POUNDS:
        return JIGTRUE_TORQUE;
    case JIGTRUE_NEWTONS:
    case JIGTRUE_POUNDS_FORCE:
        return JIGTRUE_FORCE;
    default:
        return 255;
    }
}

/* An empty line: nothing to send. */
static inline uint8_t jigtrue_nothing(jigtrue_board *board) {
    board->length = 0;
    board->line[0] = '\0';
    return 0;
}

/* One value: mantissa times ten to the exponent (-9 to 9). 0 is returned, and there is nothing to send, for another
 * exponent, a quantity or unit that is not in the lists, and a unit that does not measure the quantity. */
static inline uint8_t jigtrue_sample(jigtrue_board *board, uint32_t now_ms, uint8_t quantity, int32_t mantissa,
                                     int8_t exponent, uint8_t unit, uint16_t flags) {
    uint32_t size = mantissa < 0 ? 0u - (uint32_t)mantissa : (uint32_t)mantissa;
    uint8_t measures = quantity == JIGTRUE_CROSS ? (uint8_t)JIGTRUE_ANGLE : quantity;
    if (exponent < -9 || exponent > 9 || quantity > JIGTRUE_FORCE || jigtrue_measured_in(unit) != measures) {
        return jigtrue_nothing(board);
    }
    jigtrue_begin(board, now_ms, 0);
    jigtrue_put_word(board, jigtrue_quantities, quantity);
    jigtrue_put(board, ',');
    if (mantissa < 0) {
        jigtrue_put(board, '-');
    }
    jigtrue_put_digits(board, size);
    jigtrue_put(board, 'e');
    if (exponent < 0) {
        jigtrue_put(board, '-');
        exponent = (int8_t)-exponent;
    }
    jigtrue_put(board, (char)('0' + exponent));
    jigtrue_put_word(board, jigtrue_units, unit);
    jigtrue_put_flags(board, flags);
    return jigtrue_end(board);
}

/* How the board is doing: interval_ms from sample to sample, 0 for when something happens. */
static inline uint8_t jigtrue_status(jigtrue_board *board, uint32_t now_ms, uint16_t interval_ms,
                                     uint16_t flags) {
    jigtrue_begin(board, now_ms, 2);
    jigtrue_put_number(board, interval_ms);
    jigtrue_put_number(board, board->dropped);
    jigtrue_put_flags(board, flags);
    return jigtrue_end(board);
}

static inline uint8_t jigtrue_fault_from(jigtrue_board *board, uint32_t now_ms, uint8_t code,
                                         const char *detail, uint8_t where) {
    jigtrue_begin(board, now_ms, 3);
    jigtrue_put_word(board, jigtrue_faults, code > JIGTRUE_OTHER ? (uint8_t)JIGTRUE_OTHER : code);
    jigtrue_put_text(board, detail, 24, where);
    return jigtrue_end(board);
}

/* Something is wrong; detail is at most 24 characters for a person, or "". A code not in the list is sent as other. */
static inline uint8_t jigtrue_fault(jigtrue_board *board, uint32_t now_ms, uint8_t code, const char *detail) {
    return jigtrue_fault_from(board, now_ms, code, detail, JIGTRUE_IN_RAM);
}

static inline uint8_t jigtrue_fault_rom(jigtrue_board *board, uint32_t now_ms, uint8_t code, const char *detail) {
    return jigtrue_fault_from(board, now_ms, code, detail, JIGTRUE_IN_ROM);
}

/* ---- the bits of a caliper's clocked port ---------------------------------------------------- */

/* Bits as they come, the first one the lowest bit of the first nibble; 52 or 24 of them make a value. */
#define JIGTRUE_CALIPER_NIBBLES 13u

/* A value and its unit. */
typedef struct {
    int32_t mantissa;
    int8_t exponent;
    uint8_t unit;
} jigtrue_value;

/*
 * Reads the whole frame of a caliper; 0 is returned for one that holds no value. Both forms are common practice, no source.
 * 52 bits: thirteen nibbles, four of 1111, the sign (0 plus, 8 minus), six decimal digits from the highest, the place of
 * the decimal point (digits after it, 0 to 5), the unit (0 mm, 1 inch).
 * 24 bits: bits 0 to 19 the size, in hundredths of a millimetre or in half thousandths of an inch, bit 20 the sign
 * (1 minus), bit 23 the unit (1 inch), bits 21 and 22 zero.
 */
static inline uint8_t jigtrue_caliper(const uint8_t *nibbles, uint8_t bits, jigtrue_value *value) {
    int32_t size = 0;
    uint8_t minus, at;
    if (bits == 24u) {
        for (at = 5; at > 0; at--) {
            size = size * 16 + nibbles[at - 1u];
        }
        if (nibbles[5] & 6u) {
            return 0;
        }
        minus = nibbles[5] & 1u;
        value->unit = nibbles[5] & 8u ? JIGTRUE_INCHES : JIGTRUE_MM;
        value->exponent = nibbles[5] & 8u ? -4 : -2;
        size = nibbles[5] & 8u ? size * 5 : size;
    } else if (bits == 4u * JIGTRUE_CALIPER_NIBBLES) {
        for (at = 0; at < 4u; at++) {
            if (nibbles[at] != 15u) {
                return 0;
            }
        }
        for (at = 5; at < 11u; at++) {
            if (nibbles[at] > 9u) {
                return 0;
            }
            size = size * 10 + nibbles[at];
        }
        if ((nibbles[4] != 0 && nibbles[4] != 8u) || nibbles[11] > 5u || nibbles[12] > 1u) {
            return 0;
        }
        minus = nibbles[4];
        value->unit = nibbles[12] ? JIGTRUE_INCHES : JIGTRUE_MM;
        value->exponent = (int8_t)-(int8_t)nibbles[11];
    } else {
        return 0;
    }
    value->mantissa = minus ? -size : size;
    return 1;
}

#ifndef JIGTRUE_SENDS_ONLY

static inline uint8_t jigtrue_answer_from(jigtrue_board *board, uint32_t now_ms, uint8_t outcome,
                                          const char *detail, uint8_t where) {
    if (outcome > JIGTRUE_UNKNOWN) {
        return jigtrue_nothing(board);
    }
    board->outcome = outcome;
    jigtrue_begin(board, now_ms, 4);
    jigtrue_put_number(board, board->command);
    jigtrue_put_word(board, jigtrue_outcomes, outcome);
    jigtrue_put_text(board, detail, 24, where);
    return jigtrue_end(board);
}

/* What became of the command asked last; detail is at most 24 characters for a person, or "". 0 is returned, and there
 * is nothing to send, for an outcome that is not in the list. */
static inline uint8_t jigtrue_answer(jigtrue_board *board, uint32_t now_ms, uint8_t outcome,
                                     const char *detail) {
    return jigtrue_answer_from(board, now_ms, outcome, detail, JIGTRUE_IN_RAM);
}

static inline uint8_t jigtrue_answer_rom(jigtrue_board *board, uint32_t now_ms, uint8_t outcome,
                                         const char *detail) {
    return jigtrue_answer_from(board, now_ms, outcome, detail, JIGTRUE_IN_ROM);
}

/* The answer given last, for the same command sent again. */
static inline uint8_t jigtrue_answer_again(jigtrue_board *board, uint32_t now_ms) {
    return jigtrue_answer_rom(board, now_ms, board->outcome, jigtrue_dash);
}

/* ---- the commands a board hears ------------------------------------------------------------ */

/* The number at *at, moved past; 0 is returned if there is none of at most sixteen bits. */
static inline uint8_t jigtrue_take_number(const char **at, uint16_t *number) {
    const char *from = *at;
    uint16_t value = 0;
    while (**at >= '0' && **at <= '9') {
        uint16_t digit = (uint16_t)(**at - '0');
        if (value > 6553u || (value == 6553u && digit > 5u)) {
            return 0;
        }
        value = (uint16_t)((uint16_t)(value * 10u) + digit);
        (*at)++;
    }
    *number = value;
    return *at > from && (*from != '0' || *at == from + 1);
}

/* 1 if the nth word stands at *at with a comma or a star after it; *at is moved to that. */
static inline uint8_t jigtrue_take_word(const char **at, const char *words, uint8_t nth) {
    const char *word = jigtrue_word(words, nth);
    const char *here = *at;
    while ((char)JIGTRUE_READ(word) != '\0') {
        if (*here != (char)JIGTRUE_READ(word)) {
            return 0;
        }
        here++;
        word++;
    }
    if (*here != ',' && *here != '*') {
        return 0;
    }
    *at = here;
    return 1;
}

/* Moves past a comma; 0 is returned if there is none. */
static inline uint8_t jigtrue_take_comma(const char **at) {
    if (**at != ',') {
        return 0;
    }
    (*at)++;
    return 1;
}

/* Reads the command in command_line, whose check has been found right and which ends in a star. */
static inline uint8_t jigtrue_understand(jigtrue_board *board) {
    const char *at = board->command_line + 1;
    uint16_t number;
    uint8_t asked = JIGTRUE_ASK_IDENTIFY;
    if (*at != '1') {
        return JIGTRUE_NOTHING;
    }
    at++;
    if (!jigtrue_take_comma(&at) || !jigtrue_take_word(&at, jigtrue_kinds, 5) || !jigtrue_take_comma(&at) ||
        !jigtrue_take_number(&at, &number) || !jigtrue_take_comma(&at)) {
        return JIGTRUE_NOTHING;
    }
    while (asked < JIGTRUE_ASK_UNKNOWN && !jigtrue_take_word(&at, jigtrue_requests, asked)) {
        asked++;
    }
    if (asked == JIGTRUE_ASK_RATE) {
        uint16_t interval_ms;
        if (!jigtrue_take_comma(&at) || !jigtrue_take_number(&at, &interval_ms) || (*at != ',' && *at != '*')) {
            return JIGTRUE_NOTHING;
        }
        board->interval_ms = interval_ms;
    }
    /* A session begins with identify, which is always carried out. */
    if (board->has_command && board->command == number && asked != JIGTRUE_ASK_IDENTIFY) {
        return JIGTRUE_AGAIN;
    }
    board->has_command = 1;
    board->command = number;
    board->asked = asked;
    return JIGTRUE_COMMAND;
}

/* Checks the line of `heard` bytes (without its end) and reads it. */
static inline uint8_t jigtrue_whole(jigtrue_board *board) {
    uint8_t star = (uint8_t)(board->heard - 5u);
    uint16_t crc = 0xFFFFu;
    uint8_t at;
    if (board->heard < 8u || board->command_line[star] != '*') {
        return JIGTRUE_NOTHING;
    }
    for (at = 1; at < star; at++) {
        if (board->command_line[at] == '*') {
            return JIGTRUE_NOTHING;
        }
        crc = jigtrue_crc(crc, (uint8_t)board->command_line[at]);
    }
    for (at = 1; at < 5u; at++) {
        if (board->command_line[star + at] != jigtrue_hex((uint8_t)(crc >> 12))) {
            return JIGTRUE_NOTHING;
        }
        crc = (uint16_t)(crc << 4);
    }
    return jigtrue_understand(board);
}

/* Takes one received byte; says whether it completed a command. What is damaged is passed over. */
static inline uint8_t jigtrue_received(jigtrue_board *board, char byte) {
    uint8_t what = JIGTRUE_NOTHING;
    if (byte == '~') {
        board->heard = 0;
    } else if (board->heard == 0) {
        return JIGTRUE_NOTHING;
    }
    if (byte == '\n') {
        if (board->command_line[board->heard - 1u] == '\r') {
            board->heard--;
        }
        what = jigtrue_whole(board);
        board->heard = 0;
    } else if (board->heard == JIGTRUE_COMMAND_MAX) {
        board->heard = 0;
    } else {
        board->command_line[board->heard] = byte;
        board->heard++;
    }
    return what;
}

#endif /* JIGTRUE_SENDS_ONLY */

#endif
