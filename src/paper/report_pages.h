// The pages of a report, each from its part of the account. For this folder only.
#pragma once

#include "paper/account.h"
#include "paper/book.h"

namespace dapple::paper {

void write_summary(Book& book, const Account& account);
void write_lamps_needed(Book& book, const Account& account);
void write_enclosure(Book& book, const EnclosureAccount& account, const Account& whole);
void write_sheets(Book& book, const Account& account);  // of the species that live in it
void write_method(Book& book, const Account& account);
void write_cautions(Book& book);

std::string spoken(husbandry::State state);  // "in, low end"
std::string spoken(bool in);                 // "in band", "OUT of band"

}  // namespace dapple::paper
