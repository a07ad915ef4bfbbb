/** A printed size for SVG text, where a fraction is set by its signs. */
export function fractionText(s: string): string {
  return s.replace(/(\d+)-(\d+)\/(\d+)/g, '$1 $2⁄$3').replace(/(^|[^\d⁄])(\d+)\/(\d+)/g, '$1$2⁄$3')
}
