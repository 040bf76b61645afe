"""The program's own sentences about a case and a verdict, in crew English and crew Spanish (usted)."""

from typing import Final

from trainer.questions.model import Language

_PHRASES: Final[dict[str, tuple[str, str]]] = {
    # limits and judgments
    "minimum": ("at least {value}", "al menos {value}"),
    "maximum": ("at most {value}", "cuando mucho {value}"),
    "exact": ("{value}", "{value}"),
    "range": ("{least} to {most}", "de {least} a {most}"),
    "accept": ("Accept", "Aceptar"),
    "reject": ("Reject", "Rechazar"),
    "reject_reading": ("Reject: reading {reading}", "Rechazar: medida {reading}"),
    # steps
    "answer": ("answer", "respuesta"),
    "item": ("no. {place} of the list", "n.º {place} de la lista"),
    # verdicts
    "right": ("Right: {answer}.", "Correcto: {answer}."),
    "near": (
        "Right: {given} is within {within} of {answer}.",
        "Correcto: {given} está a no más de {within} de {answer}.",
    ),
    "wrong": (
        "Not right. You gave {given}; it is {answer}.",
        "No es correcto. Usted puso {given}; es {answer}.",
    ),
    "wrong_within": (
        "Not right. You gave {given}; it is {answer}, and within {within} of it counts.",
        "No es correcto. Usted puso {given}; es {answer}, y vale hasta {within} de diferencia.",
    ),
    "blank": ("No answer. It is {answer}.", "Sin respuesta. Es {answer}."),
    "also_right": ("Row {rows} is right too.", "También es correcta la fila {rows}."),
    "also_right_many": ("Rows {rows} are right too.", "También son correctas las filas {rows}."),
    "pair": ("“{before}” comes before “{after}”.", "“{before}” va antes de “{after}”."),
    "order_wrong": (
        "Not right. One right order is {answer}.",
        "No es correcto. Un orden correcto es {answer}.",
    ),
    "order_right": (
        "Right: {given} keeps every step in its place.",
        "Correcto: {given} deja cada paso en su lugar.",
    ),
    "missed": (
        "Not right. Reading {number} fails: {place}, {reading}; the limit is {limit}.",
        "No es correcto. La medida {number} falla: {place}, {reading}; el límite es {limit}.",
    ),
    "sound": (
        "Not right. Every reading keeps its limit; the work is accepted.",
        "No es correcto. Todas las medidas cumplen; el trabajo se acepta.",
    ),
    "marked_sound": (
        "Reading {number} is sound: {place}, {reading}; the limit is {limit}.",
        "La medida {number} sí cumple: {place}, {reading}; el límite es {limit}.",
    ),
    "marked_tolerance": (
        "The reading tolerance is {tolerance}, so the tape can't tell it from the limit.",
        "La tolerancia de lectura es {tolerance}: la cinta no lo distingue del límite.",
    ),
    "no_fault": ("no fault", "sin falla"),
    "spot_right": ("Right: {given}. {fact}", "Correcto: {given}. {fact}"),
    "spot_wrong": (
        "Not right. You pointed at {given}; the fault is at {answer}. {fact}",
        "No es correcto. Usted señaló {given}; la falla está en {answer}. {fact}",
    ),
    "spot_missed": (
        "Not right. There is a fault, at {answer}. {fact}",
        "No es correcto. Sí hay una falla, en {answer}. {fact}",
    ),
    "spot_sound": (
        "Not right. You pointed at {given}; nothing is at fault, the work is accepted.",
        "No es correcto. Usted señaló {given}; no hay falla, el trabajo se acepta.",
    ),
    "spot_fact": ("It is {reading}; the limit is {limit}.", "Mide {reading}; el límite es {limit}."),
    "spot_keeps": (
        "{given} is sound: it is {reading}; the limit is {limit}.",
        "{given} está bien: mide {reading}; el límite es {limit}.",
    ),
    "spot_fine": ("{given} is as it should be.", "{given} está como debe ser."),
    "unknown_part": (
        "There is no part {text}. Point at one of {letters}.",
        "No hay parte {text}. Señale una de {letters}.",
    ),
    # common mistakes
    "feet_for_inches": (
        "The number fits, but with the other unit: feet and inches were mixed up.",
        "El número va bien, pero con la otra unidad: se confundieron pies y pulgadas.",
    ),
    "inch_for_millimeter": (
        "The number fits, but with the other unit: inches and millimeters were mixed up.",
        "El número va bien, pero con la otra unidad: se confundieron pulgadas y milímetros.",
    ),
    "rounded_the_wrong_way": (
        "It works out to {exact}; whole pieces are rounded the other way.",
        "La cuenta da {exact}; las piezas enteras se redondean para el otro lado.",
    ),
    "off_by_one_more": (
        "One too many: count again from the first.",
        "Sobra uno: cuente otra vez desde el primero.",
    ),
    "off_by_one_less": (
        "One too few: count again from the first.",
        "Falta uno: cuente otra vez desde el primero.",
    ),
    # responses that can't be read
    "unread_number": (
        "“{text}” is not a whole number. Write digits only, such as 12.",
        "“{text}” no es un número entero. Escriba solo números, por ejemplo 12.",
    ),
    "unread_pad": (
        "“{text}” can't be read in the field {field}. Write digits only, such as 6.",
        "“{text}” no se entiende en la casilla {field}. Escriba solo números, por ejemplo 6.",
    ),
    "sixteenths_over": (
        "There are 0 to 15 sixteenths in an inch, not {text}. Write whole inches in their own field.",
        "Una pulgada tiene de 0 a 15 dieciseisavos, no {text}. Escriba las pulgadas enteras en su casilla.",
    ),
    "unread_quantity": (
        "“{text}” can't be read. Write a number, such as {example}.",
        "“{text}” no se entiende. Escriba un número, por ejemplo {example}.",
    ),
    "unknown_row": (
        "There is no row {text}. Pick among {letters}.",
        "No hay fila {text}. Elija entre {letters}.",
    ),
    "one_row": ("Pick one row only.", "Elija solo una fila."),
    "places": (
        "Give each step its own number, from 1 to {count}.",
        "Dé a cada paso su propio número, del 1 al {count}.",
    ),
    "decision": ("Say whether you accept or reject the work.", "Diga si acepta o rechaza el trabajo."),
    "mark_reading": (
        "Mark the reading that fails, from 1 to {count}.",
        "Marque la medida que falla, del 1 al {count}.",
    ),
    "feet": ("feet", "pies"),
    "inches": ("inches", "pulgadas"),
    "sixteenths": ("sixteenths", "dieciseisavos"),
    "millimeters": ("millimeters", "milímetros"),
}


def phrase(name: str, language: Language, **values: object) -> str:
    """Give a sentence with its values put in."""
    text = _PHRASES[name][language == "es"]
    return text.format(**values) if values else text
