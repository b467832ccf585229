// XML as watches write it, parsed by pugixml, with the line and column of every element. No entity is
// expanded but the five of XML itself and character numbers: a file that declares its own is refused.
#pragma once

#include <cstddef>
#include <memory>
#include <pugixml.hpp>
#include <string>
#include <string_view>

#include "backplan/result.hpp"

namespace backplan::io {

// Limits that bound memory and depth, far above what a day of recording has (judgement).
inline constexpr std::size_t kMostXmlTags = 1'500'000;        // "<"
inline constexpr std::size_t kMostXmlAttributes = 1'500'000;  // "="
inline constexpr int kMostXmlDepth = 32;

// Whether the bytes begin as XML does: "<" after a byte-order mark and white space.
[[nodiscard]] bool is_xml(std::string_view bytes);

// The name of an element without its prefix.
[[nodiscard]] std::string_view local_name(pugi::xml_node node);
// The first child element of this name, and the next sibling; a null node where there is none.
[[nodiscard]] pugi::xml_node first_child(pugi::xml_node parent, std::string_view name);
[[nodiscard]] pugi::xml_node next_sibling(pugi::xml_node node, std::string_view name);

class XmlText {
 public:
  [[nodiscard]] static Result<std::shared_ptr<const XmlText>> parse(std::string_view bytes,
                                                                    const std::string& file);

  [[nodiscard]] const std::string& file() const { return file_; }
  [[nodiscard]] pugi::xml_node root() const { return document_.document_element(); }
  [[nodiscard]] Diagnostic fault_at(pugi::xml_node node, std::string message, std::string hint) const;

 private:
  explicit XmlText(std::string file) : file_(std::move(file)) {}
  [[nodiscard]] Diagnostic fault_at(std::ptrdiff_t offset, std::string message, std::string hint) const;
  [[nodiscard]] Diagnostics judge() const;

  std::string file_;
  std::string bytes_;  // as they were: for lines and columns
  pugi::xml_document document_;
};

}  // namespace backplan::io
