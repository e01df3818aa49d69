"""Numbers in words, as they are said over a fire: short, and one way each."""

# fmt: off
UNITS = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen",
    "nineteen",
)
TENS = (
    "zero", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
)
FRACTIONS = {
    1 / 4: "a quarter", 1 / 3: "a third", 1 / 2: "half", 2 / 3: "two thirds",
    3 / 4: "three quarters",
}
# fmt: on


def below_hundred(number: int) -> str:
    """Words of 0 to 99."""
    if number < 20:
        return UNITS[number]
    tens, unit = divmod(number, 10)
    return TENS[tens] + (f" {UNITS[unit]}" if unit else "")


def long_form(number: int) -> str:
    """Words of any whole number, in full: "one hundred thirty", "two thousand five"."""
    if number < 0:
        return f"minus {long_form(-number)}"
    if number < 100:
        return below_hundred(number)
    for size, name in ((1_000_000, "million"), (1000, "thousand"), (100, "hundred")):
        if number >= size:
            count, rest = divmod(number, size)
            if count >= 1000:  # beyond what anyone says: digit by digit
                return " ".join(UNITS[int(digit)] for digit in str(number))
            return f"{long_form(count)} {name}" + (f" {long_form(rest)}" if rest else "")
    raise AssertionError(number)


def short_form(number: int) -> str:
    """Words of 0 to 999 as a temperature is said: "one thirty", "one oh five"."""
    hundreds, rest = divmod(number, 100)
    if not 100 < number < 1000 or rest == 0:
        return long_form(number)
    return f"{UNITS[hundreds]} {'oh ' if rest < 10 else ''}{below_hundred(rest)}"


def digits(number: int) -> str:
    """The number digit by digit: "one three zero"."""
    return " ".join(UNITS[int(digit)] for digit in str(number))


def parted(number: float) -> tuple[int, str]:
    """Whole part, and words of the rest: "", "and a half" or "point two five".

    The rest is taken to hundredths, half away from zero.
    """
    hundredths = int(number * 100 + 0.5 + 1e-7)
    whole, rest = divmod(hundredths, 100)
    if rest == 0:
        return whole, ""
    if rest == 50:
        return whole, "and a half"
    return whole, "point " + " ".join(UNITS[int(digit)] for digit in f"{rest:02d}".rstrip("0"))


def spell_number(number: float) -> str:
    """Words of a count or an amount, in full: "two point four", "twenty five"."""
    if number < 0:
        return f"minus {spell_number(-number)}"
    whole, rest = parted(number)
    if rest == "and a half" and whole == 0:
        return "zero point five"
    return f"{long_form(whole)} {rest}".strip()


def spell_temperature(number: float) -> str:
    """Words of a temperature: 118.5 is "one eighteen and a half"."""
    if number < 0:
        return f"minus {spell_temperature(-number)}"
    whole, rest = parted(number)
    return f"{short_form(whole)} {rest}".strip()


def digit_by_digit(number: float) -> str:
    """A temperature's digits one by one: 130 is "one three zero"."""
    whole, rest = parted(abs(number))
    return f"{'minus ' if number < 0 else ''}{digits(whole)} {rest}".strip()


def spell_clock(minutes: int) -> str:
    """Words of a time of day given in minutes after midnight: "six thirty",
    "eighteen oh five", "seven o'clock", "zero fifteen"."""
    hour, minute = divmod(minutes, 60)
    if minute == 0:
        return (
            f"{below_hundred(hour)} hundred"
            if not 1 <= hour <= 12
            else (f"{below_hundred(hour)} o'clock")
        )
    return f"{below_hundred(hour)} {'oh ' if minute < 10 else ''}{below_hundred(minute)}"
